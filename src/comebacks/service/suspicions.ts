import { settingsOf } from '../../accounts/index.ts'
import { allSymptoms } from '../../catalogue/index.ts'
import { daysBetween, localDateOf } from '../../core/calendar.ts'
import { nameKey } from '../../core/name-key.ts'
import type { SuspicionReason } from '../../core/vocabulary.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Suspicion, SuspicionQuery } from '../contract.ts'
import { standingDecisions } from '../queries/decisions.ts'
import {
  componentsOfJobs,
  componentsOfStays,
  disturbedByJobs,
  type EarlierRow,
  earlierJobs,
  type StayRow,
  stays,
} from '../queries/suspects.ts'
import { likeThis } from '../rules/like-this.ts'
import { type FoundReason, isWithin, reasonsFor, windowDays } from '../rules/reasons.ts'
import { knowledgeOf, openNonconformities, reasonSentences } from './knowledge.ts'

/** An earlier job and a later stay that belong together, with why. */
export interface Suspected {
  earlier: EarlierRow
  stay: StayRow
  taken_in_on: string
  days_after: number
  found: FoundReason[]
}

/** One suspicion as the take-in page and others show it. */
export interface SuspicionFlag {
  earlier_job_id: string
  later_work_order_id: string
  /** Came in how long after what. */
  sentence: string
  reasons: { reason: SuspicionReason; sentence: string }[]
  like_this: { confirmed: number; decided: number }
  /** Where it is decided. */
  href: string
}

/** What may be ours come back before there is an order: it leads to the earlier work, and there is nothing to decide yet. */
export type ComebackToBe = Pick<SuspicionFlag, 'earlier_job_id' | 'sentence' | 'reasons' | 'href'>

/** A stay that is not written down yet names no row, so nothing was found during it. */
const NOT_YET = ''

/**
 * Every stay that may be there because of an earlier job of ours on the vehicle, decided or not; newest stay first, then the
 * latest job first. Derived from the rows each time.
 */
export function suspected(ctx: Context, of: SuspicionQuery): Suspected[] {
  return suspectedAmong(ctx, stays(ctx.read, { vehicleId: of.vehicle_id, orderId: of.work_order_id }))
}

function suspectedAmong(ctx: Context, later: readonly StayRow[]): Suspected[] {
  const settings = settingsOf(ctx)
  const vehicles = [...new Set(later.map(stay => stay.vehicle_id))]
  const jobs = new Map<string, EarlierRow[]>()
  for (const job of earlierJobs(ctx.read, vehicles)) {
    const own = jobs.get(job.vehicle_id)
    if (own === undefined) jobs.set(job.vehicle_id, [job])
    else own.push(job)
  }
  const windowOf = ({ warranty_days, source }: EarlierRow) =>
    windowDays({ warranty_days, is_imported: source === 'history_events' }, settings)
  const possible = later.flatMap(stay => {
    const taken_in_on = localDateOf(stay.created_at, settings.time_zone)
    return (jobs.get(stay.vehicle_id) ?? [])
      .filter(job => isBefore(job, stay) && isWithin(job.handed_back_on, taken_in_on, windowOf(job)))
      .map(earlier => ({ earlier, stay, taken_in_on, days_after: daysBetween(earlier.handed_back_on, taken_in_on) }))
      .sort((a, b) => a.days_after - b.days_after)
  })
  return withReasons(ctx, possible)
}

type Possible = Omit<Suspected, 'found'>

/** A job is earlier when it was handed back before the stay began; of imported work only the day is known. */
function isBefore(job: EarlierRow, stay: StayRow): boolean {
  return job.order_id !== stay.id && (job.handed_back_at === null || job.handed_back_at <= stay.created_at)
}

/** Looks up the details of those only that fall into a window. */
function withReasons(ctx: Context, possible: readonly Possible[]): Suspected[] {
  if (possible.length === 0) return []
  const jobIds = [...new Set(possible.map(({ earlier }) => earlier.id))]
  const stayIds = [...new Set(possible.map(({ stay }) => stay.id))]
  const knowledge = knowledgeOf(ctx)
  const components = componentsOfJobs(ctx.read, jobIds)
  const disturbed = disturbedByJobs(ctx.read, jobIds)
  const failed = componentsOfStays(ctx.read, stayIds)
  const nonconformities = openNonconformities(ctx, jobIds)
  return possible.flatMap(pair => {
    const { earlier, stay } = pair
    const job = {
      operation_id: earlier.operation_id,
      symptom_ids: earlier.symptom_ids,
      component_ids: components.get(earlier.id) ?? [],
      disturbed_ids: disturbed.get(earlier.id) ?? [],
      nonconformities: nonconformities.get(earlier.id) ?? [],
    }
    const here = { symptom_ids: stay.symptom_ids, component_ids: failed.get(stay.id) ?? [] }
    const found = reasonsFor(job, here, knowledge)
    return found.length === 0 ? [] : [{ ...pair, found }]
  })
}

/** The suspicions that nobody has decided yet. */
export function openSuspicions(ctx: Context, of: SuspicionQuery = {}): Suspicion[] {
  const standing = standingDecisions(ctx.read)
  const decided = new Set(standing.map(row => pairId(earlierIdOf(row), row.later_work_order_id)))
  const past = standing.map(({ reasons, decision }) => ({ reasons, confirmed: decision === 'confirmed' }))
  return suspected(ctx, of).flatMap(({ earlier, stay, days_after, found }) => {
    const id = pairId(earlier.id, stay.id)
    if (decided.has(id)) return []
    const reasons = found.map(({ reason }) => reason)
    const { confirmed, decided: count, chance } = likeThis(reasons, past)
    return [
      {
        id,
        created_at: toInstant(stay.created_at),
        created_by: null,
        vehicle_id: stay.vehicle_id,
        earlier_job_id: earlier.id,
        later_work_order_id: stay.id,
        reasons,
        sentences: [cameIn(earlier, days_after), ...reasonSentences(ctx, found)],
        days_after,
        like_this: { confirmed, decided: count },
        chance,
      },
    ]
  })
}

/** The open suspicions of a vehicle, or of one stay, with each reason as a sentence: what take-in shows as flags. */
export function suspicionsFor(ctx: Context, of: { vehicle_id: string; work_order_id?: string }): SuspicionFlag[] {
  return openSuspicions(ctx, of).map(({ earlier_job_id, later_work_order_id, reasons, sentences, like_this }) => ({
    earlier_job_id,
    later_work_order_id,
    sentence: sentences[0] ?? '',
    reasons: reasons.map((reason, place) => ({ reason, sentence: sentences[place + 1] ?? '' })),
    like_this,
    href: decisionHref(earlier_job_id, later_work_order_id),
  }))
}

/** What a vehicle that comes in today with these symptoms would be suspected of, if it were taken in now. */
export function suspicionsOfStayToBe(
  ctx: Context,
  { vehicle_id, symptoms }: { vehicle_id: string; symptoms: readonly string[] },
): ComebackToBe[] {
  const keys = new Set(symptoms.map(nameKey))
  const symptom_ids = allSymptoms(ctx).flatMap(({ id, name }) => (keys.has(nameKey(name)) ? [id] : []))
  const stay = {
    id: NOT_YET,
    number: NOT_YET,
    vehicle_id,
    created_at: ctx.clock.now(),
    handed_back_at: null,
    symptom_ids,
  }
  return suspectedAmong(ctx, [stay]).map(({ earlier, days_after, found }) => ({
    earlier_job_id: earlier.id,
    sentence: cameIn(earlier, days_after, 'Comes in'),
    reasons: reasonsInWords(ctx, found),
    href: earlier.order_id === null ? `/vehicles/${vehicle_id}` : `/work-orders/${earlier.order_id}`,
  }))
}

/** The reasons of one job and one stay, decided or not, each with its sentence. */
export function reasonsOf(
  ctx: Context,
  pair: { earlier_job_id: string; later_work_order_id: string },
): { reason: SuspicionReason; sentence: string }[] {
  const one = suspected(ctx, { work_order_id: pair.later_work_order_id }).find(
    ({ earlier }) => earlier.id === pair.earlier_job_id,
  )
  return reasonsInWords(ctx, one?.found ?? [])
}

function reasonsInWords(ctx: Context, found: readonly FoundReason[]): SuspicionFlag['reasons'] {
  const sentences = reasonSentences(ctx, found)
  return found.map(({ reason }, place) => ({ reason, sentence: sentences[place] ?? '' }))
}

/** "Came in 41 days after “Final drive belt: renew” (work order 2031-0188)." */
function cameIn({ task, order_number }: EarlierRow, days: number, comes = 'Came in'): string {
  const after = days === 0 ? 'the same day as' : `${counted(days, 'day')} after`
  return `${comes} ${after} “${task}” (${order_number === null ? 'imported history' : `work order ${order_number}`}).`
}

export function decisionHref(earlierId: string, laterId: string): string {
  return `/comebacks/${encodeURIComponent(earlierId)}/${encodeURIComponent(laterId)}`
}

/** Where a decision is read: the owner opens it, everybody else reads the list. */
export function readableAt(ctx: Context, earlierId: string, laterId: string): string {
  return ctx.actor?.role === 'owner' ? decisionHref(earlierId, laterId) : '/comebacks'
}

function pairId(earlierId: string, laterId: string): string {
  return `${earlierId}.${laterId}`
}

export function earlierIdOf(row: { earlier_job_id: string | null; earlier_history_event_id: string | null }): string {
  return row.earlier_job_id ?? row.earlier_history_event_id ?? ''
}
