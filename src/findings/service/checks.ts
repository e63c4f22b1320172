import { componentNames, requireComponent, requireSymptom, symptomNames } from '../../catalogue/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant } from '../../platform/wire.ts'
import { handBackOf, planOfOrder, workOrderById } from '../../work-orders/index.ts'
import type { CheckMade, CheckMadeInput } from '../contract.ts'
import { type CheckMadeRow, checksMade, findingById, insertCheckMade } from '../queries.ts'
import { lookResults, recordLookResult } from './results.ts'

/**
 * A component that was checked to find what is wrong (T): fine, or the finding that was made. A look at it that the plan of
 * the stay asks for, and that can be done now, has its outcome with that. Problems: not-found,
 * role-not-allowed, work-order-handed-back, invalid-input for names and ids that are unknown and for a finding of another
 * vehicle or component.
 */
export function recordCheck(ctx: Context, orderId: string, input: CheckMadeInput): CheckMade {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const order = workOrderById(ctx, orderId)
    if (handBackOf(ctx, orderId) !== undefined)
      throw problem('work-order-handed-back', { detail: `Work order ${order.number} has been handed back.` })
    const { componentId, symptomId } = together({
      componentId: () => requireComponent(tx, input.component, '/component'),
      symptomId: () => (input.symptom === undefined ? null : requireSymptom(tx, input.symptom, '/symptom')),
      outcome: () => refuseUnclear(input),
    })
    if (input.finding_id !== undefined) {
      const finding = findingById(tx, input.finding_id)
      if (finding?.vehicle_id !== order.vehicle_id || finding.component_id !== componentId)
        throw invalid({
          pointer: '/finding_id',
          detail: 'This vehicle has no such finding on this component.',
          code: 'unknown',
        })
    }
    const row: CheckMadeRow = {
      ...newRecord(ctx),
      ...{ work_order_id: orderId, component_id: componentId, symptom_id: symptomId },
      finding_id: input.finding_id ?? null,
    }
    for (const lookId of openLooksAt(ctx, orderId, componentId))
      recordLookResult(ctx, lookId, row.finding_id === null ? { fine: true } : { finding_id: row.finding_id })
    insertCheckMade(tx, row)
    recordEvent(ctx, tx, { action: 'check.made', table: 'checks_made', id: row.id })
    return toWire(ctx, row)
  })
}

/** Every check of a stay, oldest first: of two of one component the later counts. 404 for an unknown order. */
export function checksOfOrder(ctx: Context, orderId: string): CheckMade[] {
  workOrderById(ctx, orderId)
  return checksMade(ctx.read, orderId).map(row => toWire(ctx, row))
}

/** Looks at a component that nobody has answered and whose step is open, on the jobs that stand. */
function openLooksAt(ctx: Context, orderId: string, componentId: string): string[] {
  const { jobs, steps } = planOfOrder(ctx, orderId)
  const isOpen = (stepId: string | null) =>
    stepId === null || steps.some(step => step.access_step_id === stepId && step.is_open)
  const looks = jobs
    .filter(job => job.voiding === null)
    .flatMap(job => job.looks)
    .filter(look => look.component_id === componentId && isOpen(look.behind_step_id))
    .map(look => look.id)
  const answered = lookResults(ctx, looks)
  return looks.filter(id => !answered.has(id))
}

function refuseUnclear({ fine, finding_id }: CheckMadeInput): void {
  if ((fine === true) !== (finding_id !== undefined)) return
  throw invalid({
    pointer: '',
    detail: 'Say one thing: it is fine, or the finding that was made.',
    code: 'does_not_fit',
  })
}

function toWire(ctx: Context, row: CheckMadeRow): CheckMade {
  return {
    ...{ id: row.id, created_at: toInstant(row.created_at), created_by: row.created_by },
    work_order_id: row.work_order_id,
    component: componentNames(ctx, [row.component_id])[0]!,
    ...(row.symptom_id !== null && { symptom: symptomNames(ctx, [row.symptom_id])[0]! }),
    fine: row.finding_id === null,
    ...(row.finding_id !== null && { finding_id: row.finding_id }),
  }
}
