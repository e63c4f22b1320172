import { and, asc, eq, isNotNull, isNull, type SQL, sql } from 'drizzle-orm'
import type { AnySQLiteColumn } from 'drizzle-orm/sqlite-core'
import { procedure_revisions } from '../../catalogue/schema.ts'
import type { DoubtedSpan } from '../../core/fastening/known-good.ts'
import { batch_faults } from '../../parts/schema.ts'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { hand_backs, job_joints, jobs, part_lines, work_orders } from '../../work-orders/schema.ts'
import { doubt_settlements, torque_records } from '../schema.ts'
import { isOfBatch } from './batches.ts'

/** A joint that a cause touched, in milliseconds: its first such record, and when that was written down. */
export interface Touch {
  cause_id: string
  joint_id: string
  since: number
  recorded_at: number
}

/** The readings of one instrument that a cause covers. Of those before `narrow_from` a person has said that they are not touched. */
export interface ToolSpan extends DoubtedSpan {
  cause_id: string
  tool_id: string
  /** When the cause was recorded. */
  created_at: number
  narrow_from: number
}

/** `since` is null where all that was touched lies before `narrow_from`; `first_at` is the first of all. */
export interface ToolTouch extends Omit<Touch, 'since'> {
  since: number | null
  first_at: number
}

type Prepared<Row> = { all(bound: Record<string, unknown>): Row[] }

/** One query over the whole shop (`joints` null) and over some joints, so that a page of one joint reads no others. */
function scoped<Row>(joint: AnySQLiteColumn, prepare: (read: Read, scope: SQL, isAll: boolean) => Prepared<Row>) {
  const everywhere = hot((read: Read) => prepare(read, sql`true`, true))
  const among = hot((read: Read) => prepare(read, isAmong(joint, 'jointIds'), false))
  return (read: Read, joints: readonly string[] | null, bound: Record<string, unknown> = {}): Row[] =>
    joints === null ? everywhere(read).all(bound) : among(read).all({ ...bound, jointIds: idList(joints) })
}

/** Nothing has put the record right. */
const stands = sql`not exists (select 1 from torque_records later where later.supersedes_id = ${torque_records.id})`

/** The spans as rows. The limit keeps SQLite from taking the JSON apart again for every record. */
const spanRows = sql`(select value ->> 'cause_id' as cause_id, value ->> 'tool_id' as tool_id, value ->> 'created_at' as created_at,
  value ->> 'from' as from_ms, value ->> 'until' as until_ms, value ->> 'judged_from' as judged_ms,
  value ->> 'narrow_from' as narrow_ms from json_each(${sql.placeholder('spans')}) limit 100000) span`

function touchedByTool(tool: AnySQLiteColumn) {
  const made = torque_records.made_at
  return scoped(torque_records.joint_id, (read, scope, isAll): Prepared<ToolTouch> => {
    // of some joints the records are few: the plus keeps SQLite from reading all of the tool's instead
    const ofTool = isAll ? tool : sql`+${tool}`
    return read
      .select({
        cause_id: sql<string>`span.cause_id`.as('cause_id'),
        joint_id: torque_records.joint_id,
        since: sql<number | null>`min(${made}) filter (where ${made} >= span.narrow_ms)`,
        first_at: sql<number>`min(${made})`,
        recorded_at: sql<number>`min(${torque_records.created_at})`,
      })
      .from(spanRows)
      .innerJoin(
        torque_records,
        sql`${ofTool} = span.tool_id and ${made} >= span.from_ms and ${made} < span.until_ms and (${made} < span.judged_ms
          or (${torque_records.created_at}, ${torque_records.id}) < (span.created_at, span.cause_id))`,
      )
      .where(and(scope, stands))
      .groupBy(sql`1`, torque_records.joint_id)
      .prepare()
  })
}

const wrenchTouches = touchedByTool(torque_records.wrench_id)
const gaugeTouches = touchedByTool(torque_records.gauge_id)

/** The joints whose standing records lie in the spans of their wrenches or gauges. */
export function touchedByTools(
  read: Read,
  joints: readonly string[] | null,
  spans: { wrenches: readonly ToolSpan[]; gauges: readonly ToolSpan[] },
): ToolTouch[] {
  const found = (touches: typeof wrenchTouches, own: readonly ToolSpan[]) =>
    own.length === 0 ? [] : touches(read, joints, { spans: JSON.stringify(own) })
  return [...found(wrenchTouches, spans.wrenches), ...found(gaugeTouches, spans.gauges)]
}

const batchTouches = scoped(
  part_lines.joint_id,
  (read, scope): Prepared<Touch> =>
    read
      .select({
        cause_id: batch_faults.id,
        joint_id: sql<string>`${part_lines.joint_id}`.as('joint_id'),
        since: sql<number>`min(${part_lines.created_at})`,
        recorded_at: sql<number>`min(${part_lines.created_at})`,
      })
      .from(batch_faults)
      .innerJoin(part_lines, isOfBatch)
      .where(and(scope, isNotNull(part_lines.joint_id)))
      .groupBy(batch_faults.id, part_lines.joint_id)
      .prepare(),
)

/** The joints that got any of a batch that was found bad. */
export function touchedByBatches(read: Read, joints: readonly string[] | null): Touch[] {
  return batchTouches(read, joints)
}

const procedureTouches = scoped(
  job_joints.id,
  (read, scope): Prepared<Touch> =>
    read
      .select({
        cause_id: procedure_revisions.id,
        joint_id: job_joints.id,
        since: sql<number>`min(${torque_records.made_at})`,
        recorded_at: sql<number>`min(${torque_records.created_at})`,
      })
      .from(procedure_revisions)
      .innerJoin(job_joints, eq(job_joints.procedure_revision_id, procedure_revisions.supersedes_id))
      .innerJoin(torque_records, eq(torque_records.joint_id, job_joints.id))
      .where(and(scope, stands, isNull(torque_records.withdrawn)))
      .groupBy(procedure_revisions.id, job_joints.id)
      .prepare(),
)

/** The joints on which anything was tightened by a revision that a later one calls wrong. */
export function touchedByProcedures(read: Read, joints: readonly string[] | null): Touch[] {
  return procedureTouches(read, joints)
}

/** A record that put another right after the vehicle had left. `stands`: nothing has put it right since. */
export interface Correction extends Touch {
  reason: string
  stands: 0 | 1
}

const correctionsMade = scoped(
  torque_records.joint_id,
  (read, scope): Prepared<Correction> =>
    read
      .select({
        cause_id: torque_records.id,
        joint_id: torque_records.joint_id,
        since: torque_records.made_at,
        recorded_at: torque_records.created_at,
        reason: sql<string>`${torque_records.reason}`,
        stands: sql<0 | 1>`${stands}`,
      })
      .from(torque_records)
      .innerJoin(job_joints, eq(job_joints.id, torque_records.joint_id))
      .innerJoin(jobs, eq(jobs.id, job_joints.job_id))
      .innerJoin(hand_backs, eq(hand_backs.work_order_id, jobs.work_order_id))
      .where(
        and(
          scope,
          isNotNull(torque_records.supersedes_id),
          // within one millisecond the ids, which sort by creation, decide
          sql`(${torque_records.created_at}, ${torque_records.id}) > (${hand_backs.created_at}, ${hand_backs.id})`,
        ),
      )
      .prepare(),
)

export function correctionsAfterHandBack(read: Read, joints: readonly string[] | null): Correction[] {
  return correctionsMade(read, joints)
}

const settlementsMade = scoped(doubt_settlements.joint_id, (read, scope) =>
  read
    .select()
    .from(doubt_settlements)
    .where(scope)
    .orderBy(asc(doubt_settlements.created_at), asc(doubt_settlements.id))
    .prepare(),
)

/** Oldest first. */
export function settlementsOf(read: Read, joints: readonly string[] | null) {
  return settlementsMade(read, joints)
}
export type DoubtSettlementRow = ReturnType<typeof settlementsOf>[number]

export const insertDoubtSettlement = hotInsert(doubt_settlements)

const jointsOfVehicleId = hot((read: Read) =>
  read
    .select({ id: job_joints.id })
    .from(work_orders)
    .innerJoin(jobs, eq(jobs.work_order_id, work_orders.id))
    .innerJoin(job_joints, eq(job_joints.job_id, jobs.id))
    .where(eq(work_orders.vehicle_id, sql.placeholder('vehicleId')))
    .prepare(),
)

/** Every joint that was ever planned on a vehicle. */
export function jointIdsOfVehicle(read: Read, vehicleId: string): string[] {
  return jointsOfVehicleId(read)
    .all({ vehicleId })
    .map(row => row.id)
}
