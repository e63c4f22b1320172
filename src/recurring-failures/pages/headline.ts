import type { PriorWork, PriorWorkPair } from '../contract.ts'
import { failureName, rough, whole } from './numbers.ts'
import { timesAsOften, unitOfTime } from './pair-sentence.ts'

/** The page's first sentence: the surest pair that is often followed by its failure, or that there is none. */
export function headline({ pairs }: PriorWork): string {
  const often = pairs.find(pair => pair.says === 'often')
  if (often === undefined) {
    if (pairs.length === 0) return 'No pair of work and later failure has enough failures to be tested yet.'
    const tested = pairs.length === 1 ? 'The one pair that was tested' : `Of ${whole(pairs.length)} pairs tested, none`
    return pairs.length === 1
      ? `${tested} is not shown to be often followed by its failure.`
      : `${tested} is shown to be often followed by its failure.`
  }
  return `“${often.operation}” is often followed by “${failureName(often.component, often.failure_mode)}”: ${timesAsOften(often)}, among vehicles of the same family.`
}

/** The counts of the first sentence, which are of all families and so give a ratio of their own. */
export function crudeWords({ exposed, unexposed, crude_rate_ratio }: PriorWorkPair, clock: PriorWork['clock']): string {
  const unit = unitOfTime(clock)
  const counts = `All families counted together it is ${exposed.events} times in ${rough(exposed.time)} ${unit} after it, against ${unexposed.events} in ${rough(unexposed.time)} without it`
  const ratio = crude_rate_ratio === null ? '' : `, ${rough(crude_rate_ratio)} times as often`
  return `${counts}${ratio}. The first figure compares like with like: families that fail more for other reasons cannot make it.`
}
