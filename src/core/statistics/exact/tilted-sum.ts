import { binomialLattice, convolveAll } from './lattice.ts'

/** Trials that share their odds: each succeeds with odds exp(logOdds + θ), θ the same for all of them. */
export interface SharedOdds {
  trials: number
  logOdds: number
}

/** Tails of a sum of such trials at the number that was seen, as functions of θ. */
export interface TiltedSum {
  /** The smaller of the two tails at θ. */
  smallerTail(theta: number): number
  /** The θ at which a tail (`upper`: as many or more, `lower`: as many or fewer) has the chance `target`. */
  solve(side: 'upper' | 'lower', target: number): number
}

const STEPS = 200
const CONVERGED = 1e-12
/** On the scale of θ: e⁸ is a ratio of three thousand. */
const LONGEST_MOVE = 8

function chanceAt(logOdds: number): number {
  return 1 / (1 + Math.exp(-logOdds))
}

/** The mean and the variance of the sum at θ. */
function momentsAt(strata: readonly SharedOdds[], theta: number): { mean: number; variance: number } {
  let mean = 0
  let variance = 0
  for (const { trials, logOdds } of strata) {
    const chance = chanceAt(logOdds + theta)
    mean += trials * chance
    variance += trials * chance * (1 - chance)
  }
  return { mean, variance }
}

/** The θ at which the mean of the sum is `mean`: Newton's steps, halving the bracket where they would leave it. */
function thetaOfMean(strata: readonly SharedOdds[], mean: number, trials: number): number {
  const centre = Math.log(mean) - Math.log(trials - mean)
  let low = centre - Math.max(...strata.map(stratum => stratum.logOdds))
  let high = centre - Math.min(...strata.map(stratum => stratum.logOdds))
  let theta = (low + high) / 2
  for (let step = 0; step < STEPS && high - low > CONVERGED; step++) {
    const at = momentsAt(strata, theta)
    if (at.mean < mean) low = theta
    else high = theta
    const next = theta + (mean - at.mean) / at.variance
    const inside = next > low && next < high
    if (inside && Math.abs(next - theta) < CONVERGED) return next
    theta = inside ? next : (low + high) / 2
  }
  return theta
}

/**
 * The sum of independent trials, tilted to the number seen. The distribution at θ is the one at θ₀ times
 * exp((θ − θ₀)k), and its total is known in closed form, so one convolution serves every θ. θ₀ is chosen so that the
 * mean is the number seen: there the chances around it are large and accurate, however unlikely it is elsewhere.
 *
 * @param strata at least one trial in all.
 * @param seen successes, from 0 to the number of trials.
 * @param share how much of the chance of the number seen itself belongs to a tail: 1 exact, ½ mid-P.
 */
export function tilt(strata: readonly SharedOdds[], seen: number, share: number): TiltedSum {
  const trials = strata.reduce((sum, stratum) => sum + stratum.trials, 0)
  // A mean of none or of all lies at infinity; half a success away from it is near enough.
  const centre = thetaOfMean(strata, Math.min(Math.max(seen, 0.5), trials - 0.5), trials)
  const chances = strata.map(stratum => chanceAt(stratum.logOdds + centre))
  const { lowest, mass } = convolveAll(strata.map(({ trials }, i) => binomialLattice(trials, chances[i]!)))

  /** ln of the factor that brings the chances, each times exp(delta·(k − seen)), back to a total of one. */
  function logFactor(delta: number): number {
    let log = seen * delta
    strata.forEach((stratum, i) => {
      log -= stratum.trials * Math.log1p(chances[i]! * Math.expm1(delta))
    })
    return log
  }

  /** ln of the chance of a tail at centre + delta, and the mean of the sum within that tail less the number seen. */
  function tailAt(side: 'upper' | 'lower', delta: number): { log: number; excess: number } {
    const step = side === 'upper' ? 1 : -1
    const ratio = Math.exp(delta * step)
    let weight = share
    let total = 0
    let moment = 0
    for (let i = seen - lowest; i >= 0 && i < mass.length; i += step) {
      const term = mass[i]! * weight
      total += term
      moment += term * (i + lowest - seen)
      weight = i + lowest === seen ? ratio : weight * ratio
    }
    return { log: logFactor(delta) + Math.log(total), excess: moment / total }
  }

  return {
    smallerTail(theta) {
      const delta = theta - centre
      // The tail that points away from the mean is summed; the other one is what it leaves of the whole.
      const away = Math.exp(tailAt(delta < 0 ? 'upper' : 'lower', delta).log)
      const shared = (2 * share - 1) * mass[seen - lowest]! * Math.exp(logFactor(delta))
      return Math.min(away, 1 - away + shared)
    },
    solve(side, target) {
      // ln(tail) is concave in θ: Newton's steps reach the root from one side and overshoot it once at most.
      const goal = Math.log(target)
      let delta = 0
      for (let step = 0; step < STEPS; step++) {
        const { log, excess } = tailAt(side, delta)
        const slope = seen + excess - momentsAt(strata, centre + delta).mean
        // strata that nothing but an extreme θ can move leave the tail flat here: its slope is rounding dust, of either sign
        const rising = Math.max(side === 'upper' ? slope : -slope, Number.MIN_VALUE)
        const newton = ((goal - log) / rising) * (side === 'upper' ? 1 : -1)
        const move = Math.max(-LONGEST_MOVE, Math.min(LONGEST_MOVE, newton))
        delta += move
        if (Math.abs(move) < CONVERGED * Math.max(1, Math.abs(delta))) break
      }
      return centre + delta
    },
  }
}
