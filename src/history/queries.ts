import { and, eq, isNotNull } from 'drizzle-orm'
import { components, failure_modes, operations } from '../catalogue/schema.ts'
import type { Doer } from '../core/vocabulary.ts'
import { hot } from '../platform/database/hot.ts'
import type { Store } from '../platform/database/open.ts'
import { rowsOf } from '../platform/database/quick-read.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { families, vehicles } from '../vehicles/schema.ts'
import { type history_events, history_imports } from './schema.ts'

export type HistoryImportRow = typeof history_imports.$inferInsert
export type HistoryEventRow = Required<typeof history_events.$inferInsert>

export function findImport(read: Read, sha256: string): { file_name: string; created_at: number } | undefined {
  const { file_name, created_at } = history_imports
  return read.select({ file_name, created_at }).from(history_imports).where(eq(history_imports.sha256, sha256)).get()
}

/** Every vehicle that an import has named before, by that name. */
export function importedVehicles(read: Read): { id: string; imported_as: string | null; family: string }[] {
  return read
    .select({ id: vehicles.id, imported_as: vehicles.imported_as, family: families.name })
    .from(vehicles)
    .innerJoin(families, eq(families.id, vehicles.family_id))
    .where(isNotNull(vehicles.imported_as))
    .all()
}

export function insertImport(tx: Tx, row: HistoryImportRow): void {
  tx.insert(history_imports).values(row).run()
}

/** Lets rows name others that are written later in the same transaction; they must be there when it commits. */
export function deferForeignKeys(store: Store): void {
  store.raw.pragma('defer_foreign_keys = on')
}

const COLUMNS = [
  'id',
  'import_id',
  'line',
  'row_name',
  'vehicle_id',
  'date',
  'distance_km',
  'event',
  'by',
  'operation_id',
  'component_id',
  'failure_mode_id',
  'symptom_id',
  'hours',
  'labour_minor',
  'parts_minor',
  'warranty_days',
  'warranty_km',
  'first_registered_on',
  'comeback_of_id',
  'note',
] as const satisfies readonly (keyof HistoryEventRow)[]

/** Writes rows by the hundred thousand: one statement, prepared once, bound by place. */
export function historyEventWriter(store: Store, _tx: Tx): (row: HistoryEventRow) => void {
  const names = COLUMNS.map(column => `"${column}"`).join(', ')
  const insert = store.raw.prepare(
    `insert into history_events (${names}) values (${COLUMNS.map(() => '?').join(', ')})`,
  )
  const cells: HistoryEventRow[(typeof COLUMNS)[number]][] = COLUMNS.map(() => null)
  return row => {
    for (let place = 0; place < COLUMNS.length; place += 1) cells[place] = row[COLUMNS[place]!]
    insert.run(cells)
  }
}

/** One event of a vehicle's life with the names of what it is about, from whichever table holds it. */
export interface NamedEventRow {
  record_id: string
  source: 'history_events' | 'odometer_readings' | 'prior_works' | 'jobs' | 'findings'
  date: string | null
  distance: number | null
  event: 'in_service' | 'seen' | 'work' | 'failure'
  by: Doer | null
  operation: string | null
  component: string | null
  failure_mode: string | null
  symptom: string | null
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
  warranty_days: number | null
  warranty_km: number | null
  first_registered_on: string | null
  comeback_of: string | null
  id: string
  note: string | null
}

const eventsOfVehicle = hot((raw: Store['raw']) =>
  rowsOf<NamedEventRow>(
    raw.prepare(
      `select e.id as record_id, e.source, e.date, e.distance_km as distance, e.event, e.by, o.name as operation,
         c.name as component, m.name as failure_mode, s.name as symptom, e.hours, e.labour_minor, e.parts_minor,
         e.warranty_days, e.warranty_km, e.first_registered_on, coalesce(earlier.row_name, e.comeback_of_id) as comeback_of,
         coalesce(own.row_name, e.id) as id, e.note
       from life_events e
       left join operations o on o.id = e.operation_id
       left join components c on c.id = e.component_id
       left join failure_modes m on m.id = e.failure_mode_id
       left join symptoms s on s.id = e.symptom_id
       left join history_events own on own.id = e.id
       left join history_events earlier on earlier.id = e.comeback_of_id
       where e.vehicle_id = ?
       order by e.date is not null, e.date, e.event <> 'in_service', e.distance_km, e.ordinal, e.id`,
    ),
  ),
)

/** All that is known of one vehicle, oldest first; what nobody can date comes before everything. */
export function namedEvents(store: Store, vehicleId: string): NamedEventRow[] {
  return eventsOfVehicle(store.raw)(vehicleId)
}

/** A vehicle as the analyses see it. */
export interface LifeVehicleRow {
  id: string
  family_id: string
  first_registered_on: string | null
}

/** Which vehicles: all, or those of a family, of a variant, or of both. */
export interface VehicleGroup {
  family_id?: string | undefined
  variant_id?: string | undefined
}

/** By id, so that two readings go through them in the same order. */
export function lifeVehicles(read: Read, { family_id, variant_id }: VehicleGroup): LifeVehicleRow[] {
  return read
    .select({ id: vehicles.id, family_id: vehicles.family_id, first_registered_on: vehicles.first_registered_on })
    .from(vehicles)
    .where(
      and(
        family_id === undefined ? undefined : eq(vehicles.family_id, family_id),
        variant_id === undefined ? undefined : eq(vehicles.variant_id, variant_id),
      ),
    )
    .orderBy(vehicles.id)
    .all()
}

/** One event by place: date, km, event, by, operation, component, failure mode, labour, parts, registered, replaced. */
export type LifeEventTuple = [
  date: string | null,
  distanceKm: number | null,
  event: 'in_service' | 'seen' | 'work' | 'failure',
  by: Doer | null,
  operationId: string | null,
  componentId: string | null,
  failureModeId: string | null,
  labourMinor: number | null,
  partsMinor: number | null,
  firstRegisteredOn: string | null,
  displayReplaced: 0 | 1,
]

/**
 * Reads the events of one vehicle after another. One statement a vehicle: SQLite then goes through each table by its index
 * and sorts nothing, and between two vehicles other statements may run.
 */
export function lifeEventReader(
  store: Store,
  known: { asOf: string; before: number },
): (vehicleId: string) => LifeEventTuple[] {
  const events = store.raw
    .prepare(
      `select date, distance_km, event, by, operation_id, component_id, failure_mode_id, labour_minor, parts_minor,
         first_registered_on, display_replaced
       from life_events where vehicle_id = ? and (date is null or date <= ?) and (known_at is null or known_at < ?)`,
    )
    .raw()
  return vehicleId => events.all(vehicleId, known.asOf, known.before) as LifeEventTuple[]
}

/** Ids and names of what lives are told by; the place in a list is the number that core knows a thing by. */
export function lifeNames(read: Read) {
  const named = (table: typeof families | typeof operations | typeof components | typeof failure_modes) =>
    read.select({ id: table.id, name: table.name }).from(table).orderBy(table.name).all()
  return {
    families: named(families),
    operations: named(operations),
    components: named(components),
    failure_modes: named(failure_modes),
  }
}
