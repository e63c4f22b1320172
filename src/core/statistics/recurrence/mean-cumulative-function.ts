import { Z_95 } from '../z95.ts'

/** One unit: watched from `entry` (not included) to `end` (included), with the ages of its events in any order. */
export interface RecurrenceUnit {
  entry: number
  end: number
  events: readonly number[]
}

export interface RecurrencePoint {
  at: number
  at_risk: number
  events: number
  mcf: number
  se: number
  lower: number
  upper: number
}

export interface MeanCumulativeFunction {
  units: number
  events: number
  points: RecurrencePoint[]
}

interface Repair {
  age: number
  unit: number
}

/** A variance this small beside the sums it is the difference of is what rounding leaves of none. */
const ROUNDING = 1e-13

function repairsOf(units: readonly RecurrenceUnit[]): Repair[] {
  const repairs: Repair[] = []
  units.forEach(({ entry, end, events }, unit) => {
    if (!(Number.isFinite(entry) && Number.isFinite(end))) {
      throw new RangeError('meanCumulativeFunction requires a finite entry and end')
    }
    for (const age of events) {
      if (!(age <= end))
        throw new RangeError('meanCumulativeFunction requires events no later than the end of their unit')
      if (age > entry) repairs.push({ age, unit })
    }
  })
  return repairs.sort((a, b) => a.age - b.age)
}

/** The places of the units with time, ordered by `entry` or by `end`. */
function ordered(units: readonly RecurrenceUnit[], key: 'entry' | 'end'): number[] {
  const places: number[] = []
  units.forEach((unit, i) => {
    if (unit.entry < unit.end) places.push(i)
  })
  return places.sort((a, b) => units[a]![key] - units[b]![key])
}

/**
 * How many repairs a unit has had, on average, by each age: M(t) = Σ d/r over the repair ages up to t, every repair at
 * one age pooled, units at risk when entry < t ≤ end. Variance: the robust form Σᵢ [Σₖ (dᵢₖ − dₖ/rₖ)/rₖ]² over the ages at
 * which unit i is at risk; limits M ± 1.96·se. (Nelson 1995 has r − 1 in its place and gives slightly more.)
 *
 * Unit i's inner sum is its own repairs Σ dᵢₖ/rₖ less the growth of G(t) = Σ dₖ/rₖ² while it was at risk. So the units at
 * risk need only the sum and the sum of squares of (own + G at entry), those that have ended a constant: sorting is the
 * only work that grows faster than the data.
 *
 * Source: Lawless & Nadeau (1995) Technometrics 37:158-168; Nelson (1995) Technometrics 37:147-157.
 *
 * @param units events at or before entry are left out.
 * @returns one point for each age with a repair; `events` counts those on it.
 * @throws RangeError for an event after the end of its unit and for an entry or end that is no finite number.
 */
export function meanCumulativeFunction(units: readonly RecurrenceUnit[]): MeanCumulativeFunction {
  const repairs = repairsOf(units)
  const entering = ordered(units, 'entry')
  const ending = ordered(units, 'end')
  const score = new Float64Array(units.length)
  const points: RecurrencePoint[] = []
  let [entered, ended, atRisk] = [0, 0, 0]
  let [sum, squares, settled] = [0, 0, 0]
  let [mcf, growth] = [0, 0]
  for (let next = 0; next < repairs.length; ) {
    const at = repairs[next]!.age
    for (; entered < entering.length && units[entering[entered]!]!.entry < at; entered++) {
      const unit = entering[entered]!
      score[unit] = growth
      sum += growth
      squares += growth * growth
      atRisk++
    }
    for (; ended < ending.length && units[ending[ended]!]!.end < at; ended++) {
      const own = score[ending[ended]!]!
      sum -= own
      squares -= own * own
      settled += (own - growth) ** 2
      atRisk--
    }
    const first = next
    for (; next < repairs.length && repairs[next]!.age === at; next++) {
      const { unit } = repairs[next]!
      const before = score[unit]!
      const after = before + 1 / atRisk
      score[unit] = after
      sum += after - before
      squares += after * after - before * before
    }
    const events = next - first
    mcf += events / atRisk
    growth += events / atRisk / atRisk
    const spread = squares - 2 * growth * sum + atRisk * growth * growth
    const rounded = spread < ROUNDING * (squares + atRisk * growth * growth) ? 0 : spread
    const se = Math.sqrt(settled + rounded)
    points.push({ at, at_risk: atRisk, events, mcf, se, lower: mcf - Z_95 * se, upper: mcf + Z_95 * se })
  }
  return { units: units.length, events: repairs.length, points }
}
