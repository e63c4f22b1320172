import { isSinceMotoring } from '../core/calendar.ts'
import type { Advice, Exactness, Severity } from '../core/vocabulary.ts'
import { inText } from '../core/words.ts'

/** A skipped look: anybody may leave out one that only saves trouble, with a reason that stays; one that safety hangs on only the owner may. */
export function maySkipLook(severity: Severity, role: 'desk' | 'technician' | 'owner' | 'command line'): boolean {
  return severity !== 'safety' || role === 'owner' || role === 'command line'
}

/** A finding on which safety hangs: the vehicle waits until somebody has told its customer, whatever was done about it. */
export function mustBeTold(severity: Severity): boolean {
  return severity === 'safety'
}

/** "Brake hose: cracked". */
export function findingWords({
  component,
  failure_mode,
}: {
  component: string
  failure_mode?: string | undefined
}): string {
  return failure_mode === undefined ? component : `${component}: ${failure_mode}`
}

/** "Bodil Farrow, by telephone, 3 March 2031: refused to sign": who was told of a finding, how and when, and what came back. */
export function tellingWords(
  { with: who, how, said }: { with: string; how: string; said: string },
  when: string,
): string {
  return `${who}, ${inText(how)}, ${when}: ${inText(said.replace(/\.?$/, '.'))}`
}

const ADVICE_WORDS: Record<Advice, string> = {
  not_on_the_road: 'Not on the road',
  within_limits: 'Within stated limits',
  no_concern: 'No concern',
}

/** The technician's word on a finding as a sentence: "Within stated limits: to the yard and back, until Friday." Null without. */
export function adviceWords({
  advice,
  limits,
}: {
  advice?: Advice | undefined
  limits?: string | undefined
}): string | null {
  if (advice === undefined) return null
  return `${ADVICE_WORDS[advice]}${limits === undefined ? '' : `: ${limits.replace(/\.$/, '')}`}.`
}

/** The day that stands for a rough date: the 15th of a month, 1 July of a year, the day itself; none when unknown. */
export function standsOn(exactness: Exactness, on: string | undefined): string | null {
  if (on === undefined || exactness === 'unknown') return null
  if (exactness === 'month') return `${on.slice(0, 7)}-15`
  if (exactness === 'year') return `${on.slice(0, 4)}-07-01`
  return on
}

/** What cannot be right about the day of work that was done: it lies ahead, as far as it is known at all, or before motoring. */
export function priorDayFault(exactness: Exactness, on: string | undefined, today: string): string | null {
  if (on === undefined || exactness === 'unknown') return null
  if (!isSinceMotoring(on)) return 'No motor vehicle ran before 1885. Write the year in full.'
  // this month and this year have begun, whatever day stands for them
  const known = { day: 10, month: 7, year: 4 }[exactness]
  if (on.slice(0, known) <= today.slice(0, known)) return null
  return 'That has not come yet, and this is about work that was done. Correct it.'
}
