import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, real, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { components, failure_modes, operations, symptoms } from '../catalogue/schema.ts'
import { DOERS, HISTORY_EVENTS } from '../core/vocabulary.ts'
import { isDay, isSafe, must, oneOf } from '../platform/database/columns.ts'
import { vehicles } from '../vehicles/schema.ts'

/** One imported file. The same bytes are refused a second time. */
export const history_imports = sqliteTable('history_imports', {
  ...record(),
  file_name: text('file_name').notNull(),
  sha256: text('sha256').notNull().unique(),
  row_count: integer('row_count').notNull(),
})

/**
 * One row of an imported history file, as the history format has it. Recorded in the chain as one set a file. `line` is
 * the physical line on which it began, `row_name` the file's own id.
 */
export const history_events = sqliteTable(
  'history_events',
  {
    id: text('id').primaryKey(),
    import_id: text('import_id')
      .notNull()
      .references(() => history_imports.id),
    line: integer('line').notNull(),
    row_name: text('row_name'),
    vehicle_id: text('vehicle_id')
      .notNull()
      .references(() => vehicles.id),
    date: text('date'),
    distance_km: real('distance_km'),
    event: text('event', { enum: HISTORY_EVENTS }).notNull(),
    by: text('by', { enum: DOERS }),
    operation_id: text('operation_id').references(() => operations.id),
    component_id: text('component_id').references(() => components.id),
    failure_mode_id: text('failure_mode_id').references(() => failure_modes.id),
    symptom_id: text('symptom_id').references(() => symptoms.id),
    hours: real('hours'),
    labour_minor: integer('labour_minor'),
    parts_minor: integer('parts_minor'),
    warranty_days: integer('warranty_days'),
    warranty_km: real('warranty_km'),
    first_registered_on: text('first_registered_on'),
    comeback_of_id: text('comeback_of_id').references((): AnySQLiteColumn => history_events.id),
    note: text('note'),
  },
  table => [
    oneOf(table.event, HISTORY_EVENTS),
    oneOf(table.by, DOERS),
    isDay(table.date),
    isDay(table.first_registered_on),
    ...isSafe(table.labour_minor, table.parts_minor),
    must('history_events_dated', sql`${table.date} is not null or ${table.event} = 'work'`),
    must('history_events_work', sql`${table.event} <> 'work' or ${table.operation_id} is not null`),
    must('history_events_failure', sql`${table.event} <> 'failure' or ${table.component_id} is not null`),
    must('history_events_distance', sql`${table.distance_km} >= 0`),
    index('history_events_vehicle').on(table.vehicle_id, table.date),
    index('history_events_import').on(table.import_id),
    index('history_events_symptom')
      .on(table.symptom_id, table.component_id)
      .where(sql`${table.symptom_id} is not null`),
    index('history_events_comeback').on(table.comeback_of_id).where(sql`${table.comeback_of_id} is not null`),
  ],
)
