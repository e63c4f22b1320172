import { counted } from '../../core/words.ts'
import type { PriorWork, PriorWorkPair } from '../contract.ts'
import { failureName, rough, whole } from './numbers.ts'

type Clock = PriorWork['clock']

const DAYS_IN_MONTH = 365.25 / 12
/** Up to a quarter of a year people count days. */
const COUNTED_IN_DAYS = 90
/** From so many delays on the middle one is typical of anything. */
const FEWEST_DELAYS = 3

/** 'vehicle-years', or the time of the distance clock. */
export function unitOfTime(clock: Clock): string {
  return clock === 'days' ? 'vehicle-years' : '10\u00a0000\u00a0km'
}

/** The pair in one sentence: on how many of the vehicles, how much more often than without, and when. */
export function pairSentence(pair: PriorWorkPair, clock: Clock): string {
  const failure = failureName(pair.component, pair.failure_mode)
  const found = pair.exposed.events === 0 ? 'was not found' : 'was found'
  return `After “${pair.operation}”, “${failure}” ${found} ${onHowMany(pair, clock)}`
}

/** The same beneath the names of the two. */
export function pairInShort(pair: PriorWorkPair, clock: Clock): string {
  return pair.exposed.events === 0 ? `Not found ${onHowMany(pair, clock)}` : `Found ${onHowMany(pair, clock)}`
}

function onHowMany(pair: PriorWorkPair, clock: Clock): string {
  const { exposed, unexposed, vehicles_failed } = pair
  if (exposed.events === 0) {
    const without = `${times(unexposed.events)} in ${rough(unexposed.time)} ${unitOfTime(clock)} without it`
    return `on any of ${whole(exposed.vehicles)} such vehicles; ${without}.`
  }
  return `in ${whole(vehicles_failed)} of ${whole(exposed.vehicles)} such vehicles: ${timesAsOften(pair)}${typically(pair, clock)}.`
}

function times(count: number): string {
  return count === 1 ? 'once' : `${whole(count)} times`
}

/** The ratio with its limits, or that it never comes without the work. */
export function timesAsOften({ rate_ratio, lower, upper }: PriorWorkPair): string {
  const least = lower === null ? '0' : rough(lower)
  if (rate_ratio === null) return `never without it, at least ${least} times as often`
  return `${rough(rate_ratio)} times as often as without it (${least} to ${upper === null ? 'no limit' : rough(upper)})`
}

function typically({ delay }: PriorWorkPair, clock: Clock): string {
  if (delay.n < FEWEST_DELAYS || delay.median === null) return ''
  return `, typically ${clock === 'days' ? roughTime(delay.median) : roughDistance(delay.median)} later`
}

/** No more exact than it deserves: '12 days', '9 months', '2.5 years'. */
function roughTime(days: number): string {
  if (days < COUNTED_IN_DAYS) return counted(Math.round(days), 'day')
  const months = Math.round(days / DAYS_IN_MONTH)
  return months < 24 ? `${months} months` : `${Number((months / 12).toFixed(1))} years`
}

function roughDistance(km: number): string {
  return `${aboutSo(km)} km`
}

/** Two digits are enough for what is only a guess. */
function aboutSo(value: number): string {
  return value < 1 ? value.toPrecision(1) : whole(Number(value.toPrecision(2)))
}

/**
 * What would tell where the numbers cannot yet: so much more time after such work, if the ratio stays as it is. Null where
 * they tell already: it is often followed by it, or it comes less often after it.
 */
export function whatWouldTell(pair: PriorWorkPair, clock: Clock): string | null {
  const { says, upper, more_time_to_tell, exposed, rate_ratio } = pair
  if (says === 'often' || (upper !== null && upper < 1) || more_time_to_tell === 0) return null
  if (more_time_to_tell === null) return `Cannot tell: ${whyNot(exposed.events, rate_ratio)}.`
  const much =
    clock === 'days'
      ? `${aboutSo(more_time_to_tell)} more vehicle-years`
      : `${aboutSo(more_time_to_tell * 10_000)} more km`
  return `${says === 'may' ? 'About' : 'Cannot tell yet: about'} ${much} after such work would tell, if the ratio stays as it is.`
}

function whyNot(after: number, ratio: number | null): string {
  if (after === 0 || ratio === 0) return 'it has never come after this work, among vehicles of families that had both'
  return ratio === null ? 'it has never come without this work' : 'it comes as often without this work as after it'
}
