import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { jointById } from '../../fastening/index.ts'
import type { Context } from '../../platform/context.ts'
import { newestLinkOver } from '../../platform/database/events.ts'
import { adapterFacts, calibrationsOfWrench, checksOfGauge, gaugeFacts, wrenchState } from '../../tools/index.ts'
import { planOfOrder } from '../../work-orders/index.ts'
import { type FasteningLine, fasteningLines } from '../rules/fastening-lines.ts'
import { type JointAtBench, jointAtBench } from './bench/joint.ts'

type RecordRow = JointAtBench['joint']['records'][number]

/** Everything that is known of one joint, for paper. */
export interface FasteningRecord extends JointAtBench {
  /** Where it stands, in words. */
  sentence: string
  lines: FasteningLine<RecordRow>[]
  wrenches: ReturnType<typeof wrenchUsed>[]
  gauges: ReturnType<typeof gaugeUsed>[]
  adapters: string[]
  /** What was issued to the joint: part, how many, batch. */
  issued: { part: string; quantity: number; batch: string | null; condition: string }[]
  /** The newest link of the chain over any record of the joint. */
  chain: { seq: number; hash: string; previous_hash: string; at: number } | null
}

/** 404 for an unknown joint. */
export function fasteningRecord(ctx: Context, jointId: string): FasteningRecord {
  const sheet = jointAtBench(ctx, jointId, {})
  const { joint } = sheet
  const plan = planOfOrder(ctx, joint.row.job.work_order_id)
  const { time_zone } = settingsOf(ctx)
  const onDay = (record: RecordRow) => localDateOf(record.made_at, time_zone)
  return {
    ...sheet,
    sentence: jointById(ctx, jointId).sentence,
    lines: fasteningLines(joint.procedure.order, joint.procedure.stages.length, joint.records),
    wrenches: lastUses(joint.records, 'wrench_id').map(([id, record]) => wrenchUsed(ctx, id, record, onDay(record))),
    gauges: lastUses(joint.records, 'gauge_id').map(([id, record]) => gaugeUsed(ctx, id, record, onDay(record))),
    adapters: lastUses(joint.records, 'adapter_id').flatMap(([id, { adapter_angle_deg }]) => {
      const facts = adapterFacts(ctx, id)
      return facts === undefined ? [] : [`${facts.name}, ${facts.length_mm} mm at ${adapter_angle_deg ?? 0}°`]
    }),
    issued: plan.jobs
      .flatMap(job => job.part_lines)
      .filter(line => line.joint_id === jointId)
      .map(({ part_number, part_name, quantity, batch, condition }) => ({
        part: `${part_number} ${part_name}`,
        ...{ quantity, batch, condition },
      })),
    chain: newestLinkOver(ctx.store.raw, rowsOf(sheet)) ?? null,
  }
}

/** Each tool that was used, with the last record that was made with it. */
function lastUses(
  records: readonly RecordRow[],
  column: 'wrench_id' | 'gauge_id' | 'adapter_id',
): [string, RecordRow][] {
  const uses = new Map<string, RecordRow>()
  for (const record of records) {
    const id = record[column]
    if (id !== null) uses.set(id, record)
  }
  return [...uses]
}

function wrenchUsed(ctx: Context, id: string, { uncertainty, value_si }: RecordRow, on: string) {
  const { wrench, due_on } = wrenchState(ctx, id, on)!
  const certificate = calibrationsOfWrench(ctx, id).find(each => each.made_on <= on) ?? null
  return { ...wrench, due_on, certificate, uncertainty, at: value_si }
}

function gaugeUsed(ctx: Context, id: string, { uncertainty }: RecordRow, on: string) {
  const check = checksOfGauge(ctx, id).find(each => each.made_on <= on)
  return { ...gaugeFacts(ctx, id, on)!, uncertainty, check: check ?? null }
}

/** Every row that says something of the joint. */
function rowsOf({ joint }: JointAtBench): { table: string; id: string }[] {
  const rows = (table: string, list: readonly { id: string }[]) => list.map(({ id }) => ({ table, id }))
  return [
    ...rows('job_joints', [joint.row.joint]),
    ...rows('torque_records', joint.records),
    ...rows('sign_offs', joint.sign_offs),
    ...rows('joint_leavings', joint.leavings),
    ...rows(
      'joint_resumptions',
      joint.leavings.flatMap(({ resumption }) => (resumption === null ? [] : [resumption])),
    ),
    ...rows('fastener_inspections', joint.inspections),
    ...rows('temporary_uses', joint.temporary_uses),
  ]
}
