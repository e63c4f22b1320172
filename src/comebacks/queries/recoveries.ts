import { and, desc, eq, inArray, isNull, lt, lte, type SQL, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/sqlite-core'
import { OPEN_RECOVERY_STATES } from '../../core/vocabulary.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { recoveries } from '../schema.ts'

type Row = typeof recoveries.$inferSelect
export type RecoveryRow = Row & { superseded_by: string | null }

const newer = alias(recoveries, 'newer')

export function insertRecovery(tx: Tx, row: Row): void {
  tx.insert(recoveries).values(row).run()
}

function claims(read: Read, limit: number, ...conditions: (SQL | undefined)[]): RecoveryRow[] {
  return read
    .select({ recovery: recoveries, superseded_by: newer.id })
    .from(recoveries)
    .leftJoin(newer, eq(newer.supersedes_id, recoveries.id))
    .where(and(...conditions))
    .orderBy(desc(recoveries.id))
    .limit(limit)
    .all()
    .map(({ recovery, superseded_by }) => ({ ...recovery, superseded_by }))
}

export function recoveryRow(read: Read, id: string): RecoveryRow | undefined {
  return claims(read, 1, eq(recoveries.id, id))[0]
}

/** Newest first, after an id. */
export function pageOfRecoveries(read: Read, limit: number, after: string | null): RecoveryRow[] {
  return claims(read, limit, after === null ? undefined : lt(recoveries.id, after))
}

/** Claims that stand, are not closed, and are to be settled by a day: the soonest first. */
export function openRecoveriesDue(read: Read, until: string): RecoveryRow[] {
  return claims(
    read,
    -1,
    isNull(newer.id),
    inArray(recoveries.state, [...OPEN_RECOVERY_STATES]),
    lte(recoveries.deadline_on, until),
  ).sort((a, b) => (a.deadline_on < b.deadline_on ? -1 : 1))
}

/** Claims that stand for the comebacks that brought a stay here, newest first. */
export function standingRecoveriesOn(read: Read, orderId: string): RecoveryRow[] {
  const ofStay = sql`${recoveries.decision_id} in (select id from comeback_decisions where later_work_order_id = ${orderId})`
  return claims(read, -1, isNull(newer.id), ofStay)
}

/** Money that suppliers had paid for the comebacks that brought a stay here, as known before an instant; minor units. */
export function recoveredForStay(read: Read, orderId: string, before: number): number {
  return read.get<{ minor: number }>(sql`
    select coalesce(sum(r.amount_minor), 0) as minor
    from recoveries r join comeback_decisions d on d.id = r.decision_id
    where d.later_work_order_id = ${orderId} and r.state = 'paid' and r.created_at < ${before}
      and not exists (select 1 from recoveries n where n.supersedes_id = r.id and n.created_at < ${before})`).minor
}

/** A part as it was fitted, with the job that it went into. */
export interface FittedPart {
  id: string
  part_id: string
  batch: string | null
  vehicle_id: string
}

export function fittedPart(read: Read, partLineId: string): FittedPart | undefined {
  return read.get(sql`
    select l.id, l.part_id, l.batch, w.vehicle_id
    from part_lines l join jobs j on j.id = l.job_id join work_orders w on w.id = j.work_order_id
    where l.id = ${partLineId}`)
}

/** Other vehicles that got the same part from the same batch. People write a batch in small letters or large. */
export function sameBatch(
  read: Read,
  { part_id, batch, vehicle_id }: FittedPart,
): { vehicle_id: string; job_id: string; work_order: string }[] {
  if (batch === null) return []
  return read.all(sql`
    select w.vehicle_id, j.id as job_id, w.number as work_order
    from standing_part_lines l join jobs j on j.id = l.job_id join work_orders w on w.id = j.work_order_id
    where l.part_id = ${part_id} and l.batch = ${batch} collate nocase and w.vehicle_id <> ${vehicle_id}
    group by w.vehicle_id order by w.number`)
}

/** The parts fitted by the earlier job of a decision and on the stay that came back: one of them may have failed. */
export function partsOfComeback(
  read: Read,
  decisionId: string,
): { id: string; name: string; batch: string | null; supplier_id: string | null; work_order: string }[] {
  return read.all(sql`
    select l.id, p.name, l.batch, l.supplier_id, w.number as work_order
    from comeback_decisions d
    join jobs j on j.id = d.earlier_job_id or j.work_order_id = d.later_work_order_id
    join work_orders w on w.id = j.work_order_id
    join standing_part_lines l on l.job_id = j.id
    join parts p on p.id = l.part_id
    where d.id = ${decisionId} order by l.id`)
}
