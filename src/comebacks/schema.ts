import { sql } from 'drizzle-orm'
import { type AnySQLiteColumn, index, integer, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'
import { record } from '../accounts/schema.ts'
import { components, operations } from '../catalogue/schema.ts'
import { BEARERS, COMEBACK_DECISIONS, RECOVERY_STATES } from '../core/vocabulary.ts'
import { history_events } from '../history/schema.ts'
import { suppliers } from '../parts/schema.ts'
import { isDay, isJson, isSafe, must, notEmpty, oneOf } from '../platform/database/columns.ts'
import { jobs, part_lines, step_openings, work_orders } from '../work-orders/schema.ts'

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

/**
 * A person's word on why strip-down was done twice at our cost before the vehicle ever left. `opening_id` is the first opening
 * of the loss; a changed mind is a new row that supersedes the old one.
 */
export const loss_causes = sqliteTable(
  'loss_causes',
  {
    ...record(),
    opening_id: text('opening_id')
      .notNull()
      .references(() => step_openings.id),
    category: text('category').notNull(),
    root_cause: text('root_cause', { mode: 'json' }).$type<string[]>().notNull(),
    supersedes_id: text('supersedes_id')
      .unique()
      .references((): AnySQLiteColumn => loss_causes.id),
  },
  table => [
    ...isJson(table.root_cause),
    ...notEmpty(table.category),
    index('loss_causes_opening').on(table.opening_id),
  ],
)

/**
 * What the workshop changed so that a cause does not come back. Whether it worked is worked out from the jobs handed back
 * before and since. A correction is a new row that names the one in whose place it stands, and why.
 */
export const corrective_actions = sqliteTable(
  'corrective_actions',
  {
    ...record(),
    what: text('what').notNull(),
    done_on: text('done_on').notNull(),
    look_operation_id: text('look_operation_id').references(() => operations.id),
    look_component_id: text('look_component_id').references(() => components.id),
    supersedes_id: text('supersedes_id')
      .unique()
      .references((): AnySQLiteColumn => corrective_actions.id),
    reason: text('reason'),
  },
  table => [
    isDay(table.done_on),
    ...notEmpty(table.what, table.reason),
    must(
      'corrective_actions_whole_look',
      sql`(${table.look_operation_id} is null) = (${table.look_component_id} is null)`,
    ),
    must('corrective_actions_reason', sql`(${table.supersedes_id} is null) = (${table.reason} is null)`),
  ],
)

/** The comebacks whose cause an action is to end. */
export const corrective_action_causes = sqliteTable(
  'corrective_action_causes',
  {
    ...record(),
    action_id: text('action_id')
      .notNull()
      .references(() => corrective_actions.id),
    decision_id: text('decision_id')
      .notNull()
      .references(() => comeback_decisions.id),
  },
  table => [
    uniqueIndex('corrective_action_causes_pair').on(table.action_id, table.decision_id),
    index('corrective_action_causes_decision').on(table.decision_id),
  ],
)

/**
 * A claim on a supplier for a comeback, as it stands from then on: what becomes of it is a new row that names the one in
 * whose place it stands, and why. The failed part is kept where `kept_where` says until the claim is closed.
 */
export const recoveries = sqliteTable(
  'recoveries',
  {
    ...record(),
    decision_id: text('decision_id')
      .notNull()
      .references(() => comeback_decisions.id),
    supplier_id: text('supplier_id')
      .notNull()
      .references(() => suppliers.id),
    amount_minor: integer('amount_minor').notNull(),
    deadline_on: text('deadline_on').notNull(),
    state: text('state', { enum: RECOVERY_STATES }).notNull(),
    part_line_id: text('part_line_id').references(() => part_lines.id),
    kept_where: text('kept_where'),
    supersedes_id: text('supersedes_id')
      .unique()
      .references((): AnySQLiteColumn => recoveries.id),
    reason: text('reason'),
  },
  table => [
    oneOf(table.state, RECOVERY_STATES),
    isDay(table.deadline_on),
    ...isSafe(table.amount_minor),
    ...notEmpty(table.kept_where, table.reason),
    must('recoveries_amount', sql`${table.amount_minor} >= 0`),
    must('recoveries_reason', sql`(${table.supersedes_id} is null) = (${table.reason} is null)`),
    index('recoveries_decision').on(table.decision_id),
  ],
)
