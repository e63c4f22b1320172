import { and, desc, eq, lt, type SQL, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/sqlite-core'
import type { Read, Tx } from '../../platform/database/types.ts'
import { comeback_decisions, corrective_action_causes, corrective_actions } from '../schema.ts'

type Row = typeof corrective_actions.$inferSelect
/** An action, with the decisions whose cause it is to end. */
export type ActionRow = Row & { superseded_by: string | null; decision_ids: string[] }

const newer = alias(corrective_actions, 'newer')

export function insertAction(tx: Tx, row: Row): void {
  tx.insert(corrective_actions).values(row).run()
}

export function insertActionCause(tx: Tx, row: typeof corrective_action_causes.$inferSelect): void {
  tx.insert(corrective_action_causes).values(row).run()
}

function actions(read: Read, limit: number, ...conditions: (SQL | undefined)[]): ActionRow[] {
  return read
    .select({
      action: corrective_actions,
      superseded_by: newer.id,
      decision_ids: sql<string>`(select json_group_array(${corrective_action_causes.decision_id}) from ${corrective_action_causes}
        where ${corrective_action_causes.action_id} = ${corrective_actions.id})`,
    })
    .from(corrective_actions)
    .leftJoin(newer, eq(newer.supersedes_id, corrective_actions.id))
    .where(and(...conditions))
    .orderBy(desc(corrective_actions.id))
    .limit(limit)
    .all()
    .map(({ action, superseded_by, decision_ids }) => ({
      ...action,
      superseded_by,
      decision_ids: JSON.parse(decision_ids) as string[],
    }))
}

export function actionRow(read: Read, id: string): ActionRow | undefined {
  return actions(read, 1, eq(corrective_actions.id, id))[0]
}

/** Newest first, after an id. */
export function pageOfActions(read: Read, limit: number, after: string | null): ActionRow[] {
  return actions(read, limit, after === null ? undefined : lt(corrective_actions.id, after))
}

/** On which operation, and for what cause, the comebacks of these decisions were. */
export function causesOf(
  read: Read,
  decisionIds: readonly string[],
): { operation: string | null; category: string | null }[] {
  return read.all(sql`
    select o.name as operation, d.category
    from ${comeback_decisions} d
    left join jobs j on j.id = d.earlier_job_id
    left join history_events h on h.id = d.earlier_history_event_id
    left join operations o on o.id = coalesce(j.operation_id, h.operation_id)
    where d.id in (select value from json_each(${JSON.stringify(decisionIds)}))`)
}
