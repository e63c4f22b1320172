import { convolveAll, type Lattice } from './lattice.ts'

/** How many of several unequal chances come true. */
export interface PoissonBinomial {
  mean: number
  /** The chance of exactly k. */
  pmf(k: number): number
  /** The chance of k or fewer. */
  cdf(k: number): number
  /** The smallest k whose cdf reaches p. */
  quantile(p: number): number
}

/** A cdf that reaches p in exact arithmetic may fall short of it by rounding; no answer turns on less than this. */
const ROUNDING = 1e-12

/** So few chances are faster to add one by one. */
const FEW = 16

function oneByOne(chances: readonly number[]): Lattice {
  const mass = new Float64Array(chances.length + 1)
  mass[0] = 1
  chances.forEach((chance, done) => {
    for (let k = done + 1; k > 0; k--) mass[k] = mass[k]! * (1 - chance) + mass[k - 1]! * chance
    mass[0]! *= 1 - chance
  })
  return { lowest: 0, mass }
}

function distribution(chances: readonly number[]): Lattice {
  const parts: Lattice[] = []
  for (let i = 0; i < chances.length; i += FEW) parts.push(oneByOne(chances.slice(i, i + FEW)))
  return convolveAll(parts)
}

/**
 * The exact distribution of the number of successes among independent trials, each with its own chance, by convolution.
 *
 * Source: Wang (1993) Statistica Sinica 3:295-312; Hong (2013) Computational Statistics & Data Analysis 59:41-51.
 *
 * @param chances each from 0 to 1; none at all gives a count that is always zero.
 * @throws RangeError for a chance outside [0, 1], and from `quantile` for p outside (0, 1).
 * @example poissonBinomial([0.5, 0.5]).pmf(1) // 0.5
 */
export function poissonBinomial(chances: readonly number[]): PoissonBinomial {
  let mean = 0
  for (const chance of chances) {
    if (!(chance >= 0 && chance <= 1)) throw new RangeError('poissonBinomial requires chances from 0 to 1')
    mean += chance
  }
  const { lowest, mass } = distribution(chances)
  const cumulative = new Float64Array(mass.length)
  let sum = 0
  for (let i = 0; i < mass.length; i++) {
    sum += mass[i]!
    cumulative[i] = sum
  }
  return {
    mean,
    pmf: k => mass[k - lowest] ?? 0,
    cdf: k => {
      const at = Math.floor(k) - lowest
      return at < 0 ? 0 : Math.min(1, at >= mass.length - 1 ? 1 : cumulative[at]!)
    },
    quantile: p => {
      if (!(p > 0 && p < 1)) throw new RangeError('quantile requires a probability between 0 and 1')
      const at = cumulative.findIndex(value => value >= p - ROUNDING)
      return lowest + (at < 0 ? mass.length - 1 : at)
    },
  }
}
