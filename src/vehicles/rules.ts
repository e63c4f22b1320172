import { dayNumber } from '../core/calendar.ts'
import { longDay } from '../core/days.ts'
import { fold } from '../core/fold.ts'
import { theilSen } from '../core/statistics/screening/theil-sen.ts'
import { vin } from '../core/vin.ts'
import { counted, distanceInWords } from '../core/words.ts'

/** Something worth a second look that stops nobody. */
export interface Oddity {
  field: string
  detail: string
}

/**
 * Everything that names a thing, folded, each between blanks: a word that is looked for matches anywhere inside one of
 * them and never across two, and one between blanks is the whole of it.
 */
export function findKey(...names: (string | null | undefined)[]): string {
  const words = names.flatMap(name => (name == null ? [] : [fold(name)])).filter(word => word !== '')
  return words.length === 0 ? '' : ` ${words.join(' ')} `
}

/** What is looked for: the whole of it as one folded word, and each of its words. Null when nothing of it can be found. */
export function wanted(q: string): { whole: string; words: string[] } | null {
  const whole = fold(q)
  if (whole === '') return null
  return {
    whole,
    words: q
      .split(/\s+/)
      .map(fold)
      .filter(word => word !== ''),
  }
}

/**
 * What is odd about a number that may be a VIN; only 17 characters are judged, since older and other numbers follow no
 * rule. Source: 49 CFR 565.15 (letters I, O and Q never; check digit in place 9).
 */
export function vinOddities(field: string, number: string | null | undefined): Oddity[] {
  const characters = number?.trim().toUpperCase() ?? ''
  if (characters.length !== 17) return []
  const facts = vin(characters)
  if (!facts.valid_form) {
    const at = [...characters].findIndex(character => !/[A-HJ-NPR-Z0-9]/.test(character))
    const detail = `${JSON.stringify(characters.charAt(at))} stands in place ${at + 1}. Seventeen places hold digits and letters, never I, O or Q.`
    return [{ field, detail }]
  }
  if (facts.check_digit === null || facts.check_digit.ok) return []
  const { expected, actual } = facts.check_digit
  const detail = `Place 9 is ${actual}; the check digit would be ${expected}. Where the law asks for no check digit this means nothing; else read it again.`
  return [{ field, detail }]
}

export interface Reading {
  on: string
  distance_km: number
  display_replaced: boolean
}

/** A jump is more than this many times the usual distance, and more than this many km, beyond the reading before. */
const JUMP_TIMES = 3
const JUMP_KM = 5000
/** What is usual for a vehicle of which nobody knows how it is driven: more than nearly any is. */
const USUAL_KM_A_DAY = 200
/** More than this is no first reading of a road vehicle, but a digit too many. */
const MOST_KM = 2_000_000

/**
 * What is odd about a reading beside the others of its vehicle: lower than an earlier one or higher than a later one (unless
 * the instrument was replaced in between), or a jump against the usual usage, the Theil–Sen slope of the earlier readings; a
 * first one only when it is beyond any vehicle's life.
 *
 * A day that has not come is odd by itself.
 *
 * @param others in any order; of the same day only those that were there before it.
 */
export function odometerOddities(others: readonly Reading[], reading: Reading, today: string): Oddity[] {
  if (reading.on > today) return [{ field: 'on', detail: `${longDay(reading.on)} has not come yet. Correct the day.` }]
  if (reading.display_replaced) return []
  const sameDisplay = others.filter(other => !replacedBetween(others, other, reading))
  const earlier = sameDisplay.filter(other => other.on <= reading.on)
  const highest = earlier.reduce<Reading | null>(
    (most, other) => (most === null || other.distance_km > most.distance_km ? other : most),
    null,
  )
  if (highest !== null && reading.distance_km < highest.distance_km) return [odd('lower', reading, highest)]
  const lowest = sameDisplay
    .filter(other => other.on > reading.on)
    .reduce<Reading | null>(
      (least, other) => (least === null || other.distance_km < least.distance_km ? other : least),
      null,
    )
  if (lowest !== null && reading.distance_km > lowest.distance_km) return [odd('higher', reading, lowest)]
  return highest === null ? tooHigh(reading) : jump(earlier, highest, reading)
}

/** Did a display that was put in new on a later day part these two readings? */
function replacedBetween(all: readonly Reading[], other: Reading, reading: Reading): boolean {
  const [from, to] = other.on <= reading.on ? [other, reading] : [reading, other]
  return all.some(each => each.display_replaced && each !== from && from.on <= each.on && each.on <= to.on)
}

function odd(than: 'lower' | 'higher', reading: Reading, other: Reading): Oddity {
  const detail = `${km(reading.distance_km)} is ${than} than the ${km(other.distance_km)} of ${longDay(other.on)}. Correct it, or say that the instrument was replaced.`
  return { field: 'distance_km', detail }
}

function jump(earlier: readonly Reading[], last: Reading, reading: Reading): Oddity[] {
  const usage = theilSen(earlier.map(({ on, distance_km }) => ({ x: dayNumber(on), y: distance_km })))
  const days = dayNumber(reading.on) - dayNumber(last.on)
  const usual = Math.max(0, usage ?? USUAL_KM_A_DAY) * days
  const driven = reading.distance_km - last.distance_km
  if (driven <= JUMP_TIMES * usual + JUMP_KM) return []
  const expected =
    usage === null ? 'which is more than a vehicle is driven' : `where about ${km(Math.round(usual))} would be usual`
  const detail = `${km(driven)} in ${counted(days, 'day')} since ${longDay(last.on)}, ${expected}. Read it again.`
  return [{ field: 'distance_km', detail }]
}

function tooHigh(reading: Reading): Oddity[] {
  if (reading.distance_km <= MOST_KM) return []
  const detail = `${km(reading.distance_km)} is more than a vehicle is driven in its life. Read it again.`
  return [{ field: 'distance_km', detail }]
}

/** The fields are in km, whatever the instrument shows. */
function km(value: number): string {
  return distanceInWords(value, 'km')
}
