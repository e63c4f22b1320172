import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { listed } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { invalid, Problem, problem } from '../../platform/problems.ts'
import { fromInstant, toInstant } from '../../platform/wire.ts'
import { allWrenches, troubleInWords, wrenchState } from '../../tools/index.ts'
import type { Doubt, DoubtSettlementInput } from '../contract/doubt.ts'
import type { Word } from '../rules/settling.ts'
import { needsSecondPerson } from '../rules.ts'
import { wrenchCycles } from './activity.ts'
import type { FoundDoubt } from './doubts.ts'
import { loadJoint } from './joints.ts'
import { isRedone } from './redone.ts'
import { when } from './refusals.ts'

/**
 * As whom somebody speaks who settles a doubt now. Where safety hangs on the joint: first a technician, then a second person,
 * who is another one, or the same after the time that the settings allow to look again. 409 `same-person`,
 * `look-again-too-soon`.
 */
export function speaksAs(ctx: Context, { severity, waits_for_second_person: first }: Doubt): Word['as'] {
  if (!needsSecondPerson(severity)) return null
  if (first === null) return 'technician'
  if (first.by !== (ctx.actor?.id ?? null)) return 'second_person'
  const { look_again_after_minutes: minutes } = settingsOf(ctx)
  if (minutes === undefined)
    throw problem('same-person', {
      detail:
        'You have looked at it already. Safety hangs on this joint: a second person, with a login of their own, looks too and settles it.',
    })
  const from = fromInstant(first.at) + minutes * 60_000
  if (ctx.clock.now() < from)
    throw problem('look-again-too-soon', {
      detail: `You have looked at it already; alone in the workshop you may look again ${when(ctx, from)}.`,
      extra: { from: toInstant(from) },
    })
  return 'second_person'
}

/** Why whoever is signed in cannot settle a doubt now, in words; null when they can. */
export function cannotSpeak(ctx: Context, doubt: Doubt): string | null {
  try {
    speaksAs(ctx, doubt)
    return null
  } catch (error) {
    if (error instanceof Problem) return error.more.detail
    throw error
  }
}

/**
 * Whether it must be said with which wrench the torque was checked: of a joint that safety hangs on, by the first who settles
 * it, unless it was done anew since. There a look is not enough.
 */
export function wantsWrench(ctx: Context, { doubt, cause }: Pick<FoundDoubt, 'doubt' | 'cause'>): boolean {
  if (!needsSecondPerson(doubt.severity) || doubt.waits_for_second_person !== null) return false
  return !isRedone(ctx, loadJoint(ctx, doubt.joint_id), cause)
}

/**
 * A torque proves nothing of a fastener that may crack: at the bench a joint that safety hangs on is done anew with others before
 * anybody settles a doubt about their batch. On a vehicle that has left, a person judges by a check.
 */
function refuseBadBatchLeftIn(ctx: Context, { doubt, cause }: FoundDoubt): void {
  if (cause.cause !== 'batch' || !needsSecondPerson(doubt.severity)) return
  const joint = loadJoint(ctx, doubt.joint_id)
  if (joint.row.handed_back_at !== null || isRedone(ctx, joint, cause)) return
  throw invalid({
    pointer: '/how',
    detail: `Fasteners of the bad batch may still be in ${doubt.joint_name}: no look and no torque proves them. Fit new ones of another batch on every position, write them down for the joint, and take all of them through all stages; then settle the doubt.`,
    code: 'bad_batch_left_in',
  })
}

export function refuseUnproved(ctx: Context, found: FoundDoubt, { checked_with }: DoubtSettlementInput): void {
  refuseBadBatchLeftIn(ctx, found)
  if (checked_with !== undefined) refuseWrench(ctx, checked_with)
  else if (wantsWrench(ctx, found))
    throw invalid({
      pointer: '/checked_with',
      detail: `Safety hangs on ${found.doubt.joint_name}: to look is not enough. Check its torque, or tighten it anew (with new fasteners where these are in doubt), and say with which wrench.`,
      code: 'missing',
    })
}

function refuseWrench(ctx: Context, id: string): void {
  const state = stateNow(ctx, id)
  const fault = (detail: string, code: string) => invalid({ pointer: '/checked_with', detail, code })
  if (state === undefined) throw fault('There is no wrench with this id in the register.', 'unknown')
  if (state.trouble.length > 0)
    throw fault(
      `Wrench ${state.wrench.name} proves nothing today: ${listed(state.trouble.map(troubleInWords))}.`,
      'not_usable',
    )
}

/** Those of the register that nothing speaks against today: what is checked with them is proved. */
export function goodWrenches(ctx: Context): { id: string; name: string }[] {
  return allWrenches(ctx).filter(({ id }) => stateNow(ctx, id)?.trouble.length === 0)
}

function stateNow(ctx: Context, id: string) {
  return wrenchState(ctx, id, localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone), wrenchCycles(ctx))
}
