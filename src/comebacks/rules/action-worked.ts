import { rateRatio } from '../../core/statistics/exact/rate-ratio.ts'
import { wilsonInterval } from '../../core/statistics/exact/wilson-interval.ts'
import { counted } from '../../core/words.ts'
import { cameBack, type RatedJob, type Tally, tallyOf } from './comeback-rate.ts'

/** What an action is to end: comebacks of these causes on jobs of these operations. Null: of any. */
export interface CauseToEnd {
  operations: ReadonlySet<string> | null
  categories: ReadonlySet<string> | null
  done_on: string
  asOf: string
}

/** Comebacks of one cause per job; no rate without a job. */
export interface RateOfCause {
  jobs: number
  comebacks: number
  rate: number | null
  lower: number | null
  upper: number | null
}

export interface ActionWorked {
  before: RateOfCause
  after: RateOfCause
  /** Jobs before it whose window still runs, and those of them that came back for the cause; and the same of jobs since. */
  open_before: { jobs: number; comebacks: number }
  still_open: { jobs: number; comebacks: number }
  /** Comebacks per job since, against before, with exact mid-P limits. */
  ratio: number | null
  lower: number | null
  upper: number | null
  says: 'fewer' | 'more' | 'cannot_tell'
  /** Comebacks of the cause on jobs since, still open ones too: with one, the cause has returned. */
  returned: number
}

/**
 * Whether a change in how the workshop works has ended a cause: comebacks within the window per job handed back before it
 * and from its day on, by the exact rate ratio of one stratum with mid-P limits (see `rateRatio`). Jobs whose window still
 * runs stand beside it, as in the comeback rate.
 */
export function actionWorked(jobs: readonly RatedJob[], cause: CauseToEnd): ActionWorked {
  const { operations, categories, done_on, asOf } = cause
  const concerned = jobs.filter(job => operations === null || (job.operation !== null && operations.has(job.operation)))
  const isOfCause = (job: RatedJob) =>
    cameBack(job) && (categories === null || categories.has(job.comeback?.category ?? ''))
  const before = tallyOf(
    concerned.filter(job => job.handed_back_on < done_on),
    asOf,
    isOfCause,
  )
  const after = tallyOf(
    concerned.filter(job => job.handed_back_on >= done_on),
    asOf,
    isOfCause,
  )
  const { ratio, lower, upper } = rateRatio(
    [
      {
        exposedEvents: after.comebacks,
        exposedTime: after.jobs,
        unexposedEvents: before.comebacks,
        unexposedTime: before.jobs,
      },
    ],
    { tail: 'mid-p' },
  )
  return {
    before: rateOf(before),
    after: rateOf(after),
    open_before: before.still_open,
    still_open: after.still_open,
    ...{ ratio, lower, upper },
    says: upper !== null && upper < 1 ? 'fewer' : lower !== null && lower > 1 ? 'more' : 'cannot_tell',
    returned: after.comebacks + after.still_open.comebacks,
  }
}

function rateOf({ jobs, comebacks }: Tally): RateOfCause {
  if (jobs === 0) return { jobs, comebacks, rate: null, lower: null, upper: null }
  return { jobs, comebacks, rate: comebacks / jobs, ...wilsonInterval(comebacks, jobs) }
}

/** "Before it 5 of 41 jobs came back for this cause, since then 0 of 12 jobs did: too few to tell yet." */
export function workedWords({ before, after, open_before, still_open, says, returned }: ActionWorked): string {
  const since =
    after.jobs === 0
      ? 'since then no job has been out long enough to count'
      : `since then ${after.comebacks} of ${counted(after.jobs, 'job')}`
  const verdict = {
    fewer: 'fewer come back, more so than chance would explain',
    more: 'more come back than before, more so than chance would explain',
    cannot_tell: 'too few to tell yet',
  }[says]
  const open =
    still_open.jobs === 0
      ? ''
      : ` Of ${counted(still_open.jobs, 'job')} since, still within the window and not counted yet, ${backSoFar(still_open)}.`
  const again = returned === 0 ? '' : ` The cause has returned on ${counted(returned, 'job')} since: it is open again.`
  const first = before.jobs === 0 ? 'No job before it has been out long enough to count' : `Before it ${ofJobs(before)}`
  const openThen =
    open_before.comebacks === 0
      ? ''
      : ` Of ${counted(open_before.jobs, 'job')} before it, still within the window and not counted yet, ${backSoFar(open_before)}.`
  return `${first}, ${since}: ${verdict}.${openThen}${open}${again}`
}

function backSoFar({ comebacks }: Tally['still_open']): string {
  return `${comebacks === 0 ? 'none has' : comebacks === 1 ? '1 has' : `${comebacks} have`} come back for it`
}

function ofJobs({ comebacks, jobs }: RateOfCause): string {
  return `${comebacks} of ${counted(jobs, 'job')} came back for this cause`
}
