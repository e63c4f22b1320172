import { counted } from '../../../../core/words.ts'
import { allParts } from '../../../../parts/index.ts'
import type { Context } from '../../../../platform/context.ts'
import type { Action } from '../../../../platform/pages/actions.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { moment } from '../words.ts'

/** Large and first where old single-use fasteners are in the joint. */
export function temporaryWarning(
  { joint }: JointAtBench,
  people: Map<string, string>,
  timeZone: string,
): string | null {
  const use = joint.temporary_uses.at(-1)
  if (!joint.fitted.temporary || use === undefined) return null
  const who = use.created_by === null ? 'somebody' : (people.get(use.created_by) ?? 'somebody')
  return `Old fasteners are in this joint. ${who}, ${moment(use.at, timeZone)}: ${use.reason}. It can be signed only with a new fastener in every place.`
}

/** New ones needed and issued, inspection, and old ones for moving the vehicle; null where fasteners may be used again freely. */
export function fastenersView(
  ctx: Context,
  { joint, doubts }: JointAtBench,
  typed: (form: string, name: string) => string,
) {
  const { new_fasteners, fit, temporary } = joint.fitted
  const isOpen = joint.row.handed_back_at === null
  const { reuse } = joint.row.revision
  if (new_fasteners === null) return null
  const { needed, issued } = new_fasteners
  const action = `/bench/joints/${joint.row.joint.id}`
  const mayBeUsedAgain = reuse === 'after_inspection'
  const isMet = issued >= needed || (mayBeUsedAgain && fit === true)
  // in place of those of a bad batch others go in, though as many were issued as it needs
  const isDoubted = doubts.some(({ open, cause }) => open && cause === 'batch')
  const toIssue = isMet ? joint.procedure.order.length : needed - issued
  return {
    sentence: `${mayBeUsedAgain ? 'May be used again after inspection; else new ones' : 'For one use only. New ones'}: ${needed} needed, ${issued} issued with a batch.`,
    is_met: isMet,
    fit: fit === null ? null : fit ? 'Looked at: fit for use again.' : 'Looked at: not fit. New ones go in.',
    inspect: isOpen && mayBeUsedAgain ? inspections(action, fit) : [],
    issue:
      isOpen && (!isMet || isDoubted)
        ? {
            action: `${action}/part-lines`,
            quantity: typed('part-lines', 'quantity') || String(toIssue),
            batch: typed('part-lines', 'batch'),
            cost: typed('part-lines', 'cost_minor'),
            price: typed('part-lines', 'price_minor'),
            label: isMet
              ? 'In place of those of the bad batch: new ones of another'
              : `${counted(toIssue, 'new one', 'new ones')} still to issue`,
            parts: allParts(ctx)
              .toSorted((one, other) => Number(other.single_use) - Number(one.single_use))
              .map(part => ({
                value: part.id,
                label: `${part.number} ${part.name}`,
                selected: part.id === typed('part-lines', 'part_id'),
              })),
          }
        : null,
    old_again:
      isOpen && reuse === 'never' && !temporary
        ? { action: `${action}/temporary-uses`, reason: typed('temporary-uses', 'reason') }
        : null,
    take_off: isOpen && issued > 0 ? `/work-orders/${joint.row.job.work_order_id}/part-line-removals` : null,
  }
}

function inspections(action: string, fit: boolean | null): Action[] {
  const post = (label: string, isFit: boolean): Action => ({
    kind: 'post',
    label,
    action: `${action}/fastener-inspections`,
    hidden: [{ name: 'fit', value: String(isFit) }],
  })
  return [
    ...(fit === true ? [] : [post('Looked at, fit for use again', true)]),
    ...(fit === false ? [] : [post('Looked at, not fit', false)]),
  ]
}
