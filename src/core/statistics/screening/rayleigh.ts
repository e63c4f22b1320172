import { random } from '../../random.ts'
import { meanDirection } from './mean-direction.ts'

/** The season of a trouble: where in the year it lies, how strongly, and how often chance would do as much. */
export interface Season {
  /** The month (1 to 12) that holds the mean direction; null when the counts cancel out or there are none. */
  peak_month: number | null
  mean_direction_deg: number | null
  resultant_length: number
  p: number
}

const DRAWS = 10_000
const DIRECTIONS = Array.from({ length: 12 }, (_, i) => 30 * i + 15)
const COSINES = DIRECTIONS.map(degree => Math.cos((degree * Math.PI) / 180))
const SINES = DIRECTIONS.map(degree => Math.sin((degree * Math.PI) / 180))
/** Resultants that are equal on paper may differ by this much a count. */
const ROUNDING = 1e-9

function checked(counts: readonly number[]): number {
  if (counts.length !== 12 || !counts.every(count => Number.isSafeInteger(count) && count >= 0)) {
    throw new RangeError('rayleigh requires twelve counts of zero or more')
  }
  return counts.reduce((sum, count) => sum + count, 0)
}

/**
 * Whether a trouble has a season beyond the season of the shop's work itself. Month m stands at 30·m − 15 degrees. A draw
 * takes as many months without replacement from those of all jobs; p = (1 + draws with a resultant at least as
 * great)/10 001.
 *
 * Source: Rayleigh's test as in Mardia & Jupp (2000) Directional Statistics, section 6.3.1, by permutation as in Good
 * (2005) Permutation, Parametric and Bootstrap Tests of Hypotheses.
 *
 * @param months counts of the trouble, January first.
 * @param jobs counts of all jobs, January first.
 * @returns p is 1 where there is nothing to draw: no count, or more of them than jobs.
 * @throws RangeError for lists that are not twelve counts.
 */
export function rayleigh(months: readonly number[], jobs: readonly number[], seed = 1): Season {
  const count = checked(months)
  const pool = new Uint8Array(checked(jobs))
  let filled = 0
  jobs.forEach((number, month) => {
    pool.fill(month, filled, filled + number)
    filled += number
  })
  const seen = meanDirection(DIRECTIONS, months)
  const direction = seen.mean_direction_deg
  return {
    peak_month: direction === null ? null : Math.floor(direction / 30) + 1,
    ...seen,
    p: count === 0 || count > pool.length ? 1 : permutationP(pool, count, seen.resultant_length * count, seed),
  }
}

/** Each draw shuffles the front of the same pool: any order is as good a start for the next as the first one. */
function permutationP(pool: Uint8Array, count: number, resultant: number, seed: number): number {
  const source = random(seed)
  const threshold = Math.max(0, resultant - ROUNDING * count)
  let atLeast = 1
  for (let draw = 0; draw < DRAWS; draw++) {
    let [x, y] = [0, 0]
    for (let i = 0; i < count; i++) {
      const j = i + source.integer(pool.length - i)
      const month = pool[j]!
      pool[j] = pool[i]!
      pool[i] = month
      x += COSINES[month]!
      y += SINES[month]!
    }
    if (Math.hypot(x, y) >= threshold) atLeast++
  }
  return atLeast / (DRAWS + 1)
}
