import type { RandomSource } from '../../src/core/random.ts'
import { random } from '../../src/core/random.ts'
import { type WarrantyJob, warrantyExposure } from '../../src/core/statistics/survival/warranty-exposure.ts'
import { type Finding, share } from './finding.ts'

const SEED = 20_260_301
const SHOPS = 5
const YEARS = 8
const JOBS_A_MONTH = 40
const OPERATIONS = 12
const TERM = 365
const HORIZON = 90
const MONTH = 30
const DAYS = YEARS * 365

interface PlantedJob {
  operation: number
  on: number
  end: number
  /** Days after hand-back; beyond the end when it never comes. */
  comebackAt: number
}

/** Comebacks by an exponential law with early trouble: half of an operation's share comes in the first 60 days. */
function drawComeback(chance: RandomSource, share: number): number {
  if (chance.uniform() >= share) return Number.POSITIVE_INFINITY
  const span = chance.uniform() < 0.5 ? 60 : TERM
  return 1 + Math.floor(chance.uniform() * span)
}

function drawJobs(chance: RandomSource): PlantedJob[] {
  const shares = Array.from({ length: OPERATIONS }, () => 0.02 + chance.uniform() * 0.12)
  return Array.from({ length: (DAYS / MONTH) * JOBS_A_MONTH }, () => {
    const operation = chance.integer(OPERATIONS)
    // some warranties end early, by distance
    const end = chance.uniform() < 0.3 ? 120 + chance.integer(TERM - 120) : TERM
    return { operation, on: chance.integer(DAYS), end, comebackAt: drawComeback(chance, shares[operation]!) }
  })
}

/** A job as a day knew it: handed back before, with the comeback if it had come. */
function knownOn(day: number, jobs: readonly PlantedJob[]): WarrantyJob[] {
  return jobs
    .filter(job => job.on <= day)
    .map(job => {
      const age = day - job.on
      return { operation: job.operation, age, end: job.end, comebackAt: job.comebackAt <= age ? job.comebackAt : null }
    })
}

function claimsAfter(day: number, jobs: readonly PlantedJob[]): number {
  return jobs.filter(({ on, end, comebackAt }) => {
    const at = on + comebackAt
    return on <= day && comebackAt <= end && at > day && at <= day + HORIZON
  }).length
}

/**
 * Workshops over eight years with planted comebacks: at each month-end from the second year on, the claims of the next days
 * are foretold with what was known then, and counted. The 90 % interval should hold 85 to 95 % of them.
 */
export function promises(): Finding[] {
  const chance = random(SEED)
  let within = 0
  let cutoffs = 0
  for (let shop = 0; shop < SHOPS; shop += 1) {
    const jobs = drawJobs(chance)
    for (let day = 365; day + HORIZON <= DAYS; day += MONTH) {
      const { claims } = warrantyExposure(knownOn(day, jobs), [], { horizonDays: HORIZON })
      const actual = claimsAfter(day, jobs)
      cutoffs += 1
      if (claims.p05 <= actual && actual <= claims.p95) within += 1
    }
  }
  return [
    share(
      `90 % interval of the claims of ${HORIZON} days (${cutoffs} month-ends of ${SHOPS} workshops)`,
      within / cutoffs,
      0.85,
      0.95,
    ),
  ]
}
