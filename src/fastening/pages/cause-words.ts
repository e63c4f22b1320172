import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import type { Cause } from '../service/doubt-causes.ts'

/** What is known around a cause: since when it is doubted, and whether it has been good again. */
export function causeWords(cause: Cause, timeZone: string): { known: string; caution: string | null } {
  const { tool, narrowed, good_since } = cause
  if (tool === null) return { known: '', caution: null }
  const moment = (ms: number) => `${longDay(localDateOf(ms, timeZone))}, ${localTimeOf(ms, timeZone)}`
  const before = lastGoodWords(cause)
  const span =
    narrowed === null
      ? before
      : `${before} Doubted only from ${moment(narrowed.at)}: ${narrowed.reason.replace(/\.$/, '')}.`
  if (good_since === null) {
    const only = 'Each joint can be settled by itself; all of them at once only after a good check'
    return { known: `${span} ${only}, and there is none yet.`, caution: null }
  }
  return {
    known: `${span} It was found good on ${longDay(good_since.made_on)} (${good_since.certificate}).`,
    caution: tool.was_dropped ? null : ADJUSTED,
  }
}

export function lastGoodWords({ last_good }: Cause): string {
  if (last_good === null) return 'No check before found it good.'
  return `It was last known to be good on ${longDay(last_good.made_on)} (${last_good.certificate}).`
}

/** A wrench comes back from the test house set right, and good; that says nothing of what it did before. */
const ADJUSTED =
  'If it was set right before the good check, that check says nothing of what it tightened until then. Settle all at once only where it shows that it was never outside.'
