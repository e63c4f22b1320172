import {
  addProcedureRevision,
  createOperation,
  createProcedure,
  type ProcedureRevisionInput,
} from '../../src/catalogue/index.ts'
import { loadJoint } from '../../src/fastening/index.ts'
import type { PartLine } from '../../src/work-orders/contract.ts'
import { addJob, addPartLine } from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'
import type { OrderWorld } from './order-world.ts'

/** Six bolts: 25 N·m (20 to 30), then 90° (85 to 95). */
const TWO_STAGES: ProcedureRevisionInput = {
  layout: 'circle',
  count: 6,
  stages: [
    { kind: 'torque', target: 25, lower: 20, upper: 30 },
    { kind: 'angle', target: 90, lower: 85, upper: 95 },
  ],
  reuse: 'never',
  severity: 'breakdown',
  on_failure: 'replace',
  source: 'Invented maker’s manual, page 40',
}

/** A joint of six bolts in two stages on a job of its own, or as `revision` has it. */
export function jointWith(t: TestApp, w: OrderWorld, revision: Partial<ProcedureRevisionInput> = {}): string {
  const procedure = createProcedure(w.owner, { name: `Procedure ${t.deps.ids.next()}` }).id
  addProcedureRevision(w.owner, procedure, { ...TWO_STAGES, ...revision })
  const operation = createOperation(w.owner, {
    name: `Operation ${t.deps.ids.next()}`,
    hours: 1,
    access_step_ids: [],
    joints: [{ name: 'Test flange', procedure_id: procedure }],
    looks: [],
    final_checks: [],
  }).id
  return addJob(w.desk, w.order, { operation_id: operation }).joints[0]!.id
}

/** New fasteners noted on a joint, with their batch, as the desk or the bench does. */
export function issueNew(w: OrderWorld, jointId: string, quantity: number, more: object = {}): PartLine {
  const { job } = loadJoint(w.technician, jointId).row
  return addPartLine(w.technician, job.id, {
    ...{ part_id: w.part, quantity, batch: 'L-2214', condition: 'new', cost_minor: 40, price_minor: 90 },
    joint_id: jointId,
    ...more,
  })
}

/** What a wrench or a gauge showed an hour ago. */
export const reading = (w: OrderWorld, position: number, stage: number, value: number, more: object = {}) => ({
  position,
  stage,
  fastener: 1,
  value,
  unit: stage === 1 ? ('N.m' as const) : ('deg' as const),
  basis: 'measured' as const,
  ...(stage === 1 && { wrench_id: w.wrench }),
  made_at: '2031-03-03T07:00:00.000Z',
  ...more,
})
