import { type RandomSource, random } from '../../random.ts'
import { poissonBinomial } from '../exact/poisson-binomial.ts'
import { empiricalBayes } from './empirical-bayes.ts'
import { nelsonAalen } from './nelson-aalen.ts'

/** A job that was handed back. Operations are numbers the caller knows the names of; times are days since hand-back. */
export interface WarrantyJob {
  operation: number
  /** From hand-back to the day of the estimate. */
  age: number
  /** From hand-back to the end of the warranty. */
  end: number
  /** From hand-back to the first confirmed comeback, or null when there was none. */
  comebackAt: number | null
}

/** What one past claim cost the shop, in minor units. */
export interface ClaimCost {
  operation: number
  cost_minor: number
}

export interface WarrantyOptions {
  /** Count only the claims of the next so many days; absent: of the rest of each warranty. */
  horizonDays?: number
  seed?: number
}

export interface ExposedOperation {
  operation: number
  /** Jobs still open: in warranty, with no confirmed comeback. */
  jobs: number
  observed: number
  expected: number
  multiplier: number
  expected_claims: number
  expected_cost_minor: number
}

export interface Quantiles {
  p05: number
  p50: number
  p95: number
}

export interface WarrantyExposure {
  jobs: number
  expected_claims: number
  claims: Quantiles
  expected_cost_minor: number
  cost_minor: Quantiles
  operations: ExposedOperation[]
  /** By job, as they were given: the chance that it still claims, and what a claim costs on average; null where it is not open. */
  open: ({ chance: number; mean_cost_minor: number } | null)[]
}

const DRAWS = 10_000
/** Claims of the whole shop that the mean of one operation is worth having been seen with. */
const COST_WEIGHT = 4

interface Group {
  observed: number
  expected: number
  chances: number[]
  meanCost: number
}

/** Each operation's mean claim, drawn towards that of the shop: (Σ own + 4·shop)/(n + 4). */
function meanCosts(costs: readonly ClaimCost[]): (operation: number) => number {
  const own = new Map<number, { count: number; sum: number }>()
  let sum = 0
  for (const cost of costs) {
    const so = own.get(cost.operation) ?? { count: 0, sum: 0 }
    own.set(cost.operation, { count: so.count + 1, sum: so.sum + cost.cost_minor })
    sum += cost.cost_minor
  }
  const shop = costs.length === 0 ? 0 : sum / costs.length
  return operation => {
    const so = own.get(operation) ?? { count: 0, sum: 0 }
    return (so.sum + COST_WEIGHT * shop) / (so.count + COST_WEIGHT)
  }
}

/** Sorted totals of simulated claims; the number of claims of an operation is drawn from its exact distribution. */
function drawCosts(groups: readonly Group[], source: RandomSource): Float64Array {
  const totals = new Float64Array(DRAWS)
  for (const { chances, meanCost } of groups) {
    const claims = poissonBinomial(chances)
    const steps: number[] = []
    for (let k = 0; k <= chances.length; k++) {
      steps.push(claims.cdf(k))
      if (steps[k]! >= 1) break
    }
    for (let draw = 0; draw < DRAWS; draw++) {
      const chance = source.uniform()
      let low = 0
      let high = steps.length - 1
      while (low < high) {
        const middle = (low + high) >> 1
        if (steps[middle]! > chance) high = middle
        else low = middle + 1
      }
      totals[draw]! += low * meanCost
    }
  }
  return totals.sort()
}

/** The smallest value that at least a share p of the sorted draws does not pass. */
function quantileOfDraws(sorted: Float64Array, p: number): number {
  return Math.round(sorted[Math.ceil(p * sorted.length) - 1]!)
}

/** A job's time under watch, and whether a comeback ended it. One later than the warranty is no claim. */
function watched({ age, end, comebackAt }: WarrantyJob): { time: number; event: boolean } {
  const limit = Math.min(age, end)
  return comebackAt !== null && comebackAt <= limit ? { time: comebackAt, event: true } : { time: limit, event: false }
}

/**
 * What the shop's promises may still cost it. All jobs together give the shape of the hazard (Nelson–Aalen), each
 * operation its multiplier (empirical Bayes); an open job of age g and end w claims with chance
 * 1 − exp(−m(H(w) − H(g))), H flat beyond its last event. Claims: quantiles of the exact Poisson-binomial. Money: each
 * claim costs its operation's mean drawn to the shop's; quantiles of 10 000 seeded draws.
 *
 * Source: Kalbfleisch, Lawless & Robinson (1991) Technometrics 33:273-285 for claims by age; Marshall (1991) Applied
 * Statistics 40:283-294 for the multipliers; Hong (2013) for the quantiles.
 *
 * @returns operations with any job, by expected claims from the greatest; money in whole minor units.
 * @throws RangeError for an age or end below zero.
 */
export function warrantyExposure(
  jobs: readonly WarrantyJob[],
  costs: readonly ClaimCost[],
  { horizonDays = Number.POSITIVE_INFINITY, seed = 1 }: WarrantyOptions = {},
): WarrantyExposure {
  for (const { age, end } of jobs) {
    if (!(age >= 0 && end >= 0)) throw new RangeError('warrantyExposure requires ages and ends of zero or more')
  }
  const times = jobs.map(watched)
  const { hazardAt } = nelsonAalen(times)
  const costOf = meanCosts(costs)
  const groups = new Map<number, Group>()
  jobs.forEach((job, i) => {
    const group = groups.get(job.operation) ?? {
      observed: 0,
      expected: 0,
      chances: [],
      meanCost: costOf(job.operation),
    }
    groups.set(job.operation, group)
    group.observed += times[i]!.event ? 1 : 0
    group.expected += hazardAt(times[i]!.time)
  })
  // In the order of the operations, so that the same jobs draw the same numbers however they were listed.
  const ordered = [...groups.keys()].sort((a, b) => a - b)
  const { multipliers } = empiricalBayes(ordered.map(operation => groups.get(operation)!))
  const multiplierOf = new Map(ordered.map((operation, i) => [operation, multipliers[i]!]))
  const open = jobs.map((job, i) => {
    if (times[i]!.event || job.age > job.end) return null
    const until = Math.min(job.end, job.age + horizonDays)
    const hazard = multiplierOf.get(job.operation)! * (hazardAt(until) - hazardAt(job.age))
    const group = groups.get(job.operation)!
    const chance = -Math.expm1(-hazard)
    group.chances.push(chance)
    return { chance, mean_cost_minor: Math.round(group.meanCost) }
  })
  const all = ordered.map(operation => groups.get(operation)!)
  const claims = poissonBinomial(all.flatMap(group => group.chances))
  const draws = drawCosts(all, random(seed))
  const operations = ordered.map((operation, i): ExposedOperation => {
    const { observed, expected, chances, meanCost } = all[i]!
    const expectedClaims = chances.reduce((sum, chance) => sum + chance, 0)
    return {
      operation,
      jobs: chances.length,
      observed,
      expected,
      multiplier: multipliers[i]!,
      expected_claims: expectedClaims,
      expected_cost_minor: Math.round(expectedClaims * meanCost),
    }
  })
  return {
    jobs: operations.reduce((sum, operation) => sum + operation.jobs, 0),
    expected_claims: claims.mean,
    claims: { p05: claims.quantile(0.05), p50: claims.quantile(0.5), p95: claims.quantile(0.95) },
    // the rows are whole in minor units, and whoever adds them up must come to this
    expected_cost_minor: operations.reduce((sum, operation) => sum + operation.expected_cost_minor, 0),
    cost_minor: {
      p05: quantileOfDraws(draws, 0.05),
      p50: quantileOfDraws(draws, 0.5),
      p95: quantileOfDraws(draws, 0.95),
    },
    open,
    operations: operations.sort((a, b) => b.expected_claims - a.expected_claims || a.operation - b.operation),
  }
}
