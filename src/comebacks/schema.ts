import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, sqliteTable, text } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { BEARERS, COMEBACK_DECISIONS } from '../core/vocabulary.ts'
import { history_events } from '../history/schema.ts'
import { isJson, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { jobs, work_orders } from '../work-orders/schema.ts'

/**
 * A person's word on whether a later stay was caused by an earlier job (ours, or one of an imported history). `root_cause`
 * is a chain: what failed, why, why that was possible. A changed mind is a new row that supersedes the old one.
 */
export const comeback_decisions = sqliteTable(
  'comeback_decisions',
  {
    ...record(),
    earlier_job_id: text('earlier_job_id').references(() => jobs.id),
    earlier_history_event_id: text('earlier_history_event_id').references(() => history_events.id),
    later_work_order_id: text('later_work_order_id')
      .notNull()
      .references(() => work_orders.id),
    decision: text('decision', { enum: COMEBACK_DECISIONS }).notNull(),
    why: text('why').notNull(),
    category: text('category'),
    root_cause: text('root_cause', { mode: 'json' }).$type<string[]>().notNull(),
    borne_by: text('borne_by', { enum: BEARERS }),
    reasons: text('reasons', { mode: 'json' }).$type<string[]>().notNull(),
    supersedes_id: text('supersedes_id')
      .unique()
      .references((): AnySQLiteColumn => comeback_decisions.id),
    /** Why the earlier decision does not hold, where that is not said in `why`. */
    reason: text('reason'),
  },
  table => [
    oneOf(table.decision, COMEBACK_DECISIONS),
    oneOf(table.borne_by, BEARERS),
    ...isJson(table.root_cause, table.reasons),
    ...notEmpty(table.why, table.category, table.reason),
    must(
      'comeback_decisions_one_earlier',
      sql`(${table.earlier_job_id} is null) <> (${table.earlier_history_event_id} is null)`,
    ),
    index('comeback_decisions_later').on(table.later_work_order_id),
    index('comeback_decisions_earlier').on(table.earlier_job_id),
  ],
)
