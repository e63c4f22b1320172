import { longDay } from '../../core/days.ts'
import type { WorkOrderState } from '../../core/vocabulary.ts'
import { counted, inText } from '../../core/words.ts'

export interface WaitingFacts {
  state: WorkOrderState
  /** Those that stand. */
  jobs: readonly { letter: string; task: string; done: boolean }[]
  blockers: readonly { reason: string; sentence: string }[]
  /** What somebody has written down that it waits for, oldest first. */
  awaited: readonly Awaited[]
  /** YYYY-MM-DD, like the days of what is awaited. */
  today: string
}

export interface Awaited {
  what: string
  from_whom?: string | undefined
  expected_on?: string | undefined
}

/** What a vehicle in the house waits for, after "waits for". */
export function waitsFor({ state, jobs, blockers, awaited, today }: WaitingFacts): string {
  if (jobs.length === 0) return 'a job: none is written down yet'
  if (blockers.some(blocker => blocker.reason === 'no_yes')) return 'the customer’s yes'
  if (blockers.some(blocker => blocker.reason === 'above_agreed')) return 'the customer’s yes to more than was agreed'
  if (state === 'ready') return 'being fetched'
  const [first_awaited, ...others] = awaited
  if (first_awaited !== undefined)
    return `${awaitedWords(first_awaited, today)}${others.length === 0 ? '' : `, and ${counted(others.length, 'thing')} more`}`
  if (state !== 'in_work') return 'the work to begin'
  if (blockers.length > 0 && blockers.every(blocker => blocker.reason === 'safety_not_told'))
    return 'the desk: the customer is to be told what was found'
  const open = blockers.map(blocker => inText(blocker.sentence.replace(/\.$/, '')))
  const undone = jobs.filter(job => !job.done).map(job => `job ${job.letter}, ${inText(job.task)}, is not done`)
  const [first, ...more] = open.length > 0 ? open : undone
  return more.length === 0 ? `the work: ${first}` : `the work: ${first}, and ${more.length} more`
}

/** "the drive belt from Fen Bearings, expected on 6 November 2031": one thing that is awaited, after "waits for". */
export function awaitedWords({ what, from_whom, expected_on }: Awaited, today: string): string {
  const from = from_whom === undefined ? '' : ` from ${from_whom}`
  if (expected_on === undefined) return `${inText(what)}${from}`
  const day = `expected on ${longDay(expected_on)}`
  return `${inText(what)}${from}, ${isPast(expected_on, today) ? `which was ${day} and is not here` : day}`
}

function isPast(day: string | null | undefined, today: string): boolean {
  return day !== null && day !== undefined && day < today
}

/** Later than promised, or what it waits for is later than expected. */
export function isOverdue(promisedOn: string | null, awaited: readonly Awaited[], today: string): boolean {
  return isPast(promisedOn, today) || awaited.some(each => isPast(each.expected_on, today))
}

/** Overdue first, then by what was promised, then those nobody was promised, oldest stay first. */
export function byUrgency<Stay extends { promised_on: string | null; overdue: boolean; taken_in: number }>(
  stays: readonly Stay[],
): Stay[] {
  const last = '9999-12-31'
  return [...stays].sort(
    (one, other) =>
      Number(other.overdue) - Number(one.overdue) ||
      (one.promised_on ?? last).localeCompare(other.promised_on ?? last) ||
      one.taken_in - other.taken_in,
  )
}
