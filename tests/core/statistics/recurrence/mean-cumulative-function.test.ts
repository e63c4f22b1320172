import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  meanCumulativeFunction,
  type RecurrenceUnit,
} from '../../../../src/core/statistics/recurrence/mean-cumulative-function.ts'
import published from '../../../published/statistics/mean-cumulative-function.json' with { type: 'json' }
import { expectPrinted, publishedRows } from '../printed.ts'

const unit = (end: number, ...events: number[]): RecurrenceUnit => ({ entry: 0, end, events })

function publishedUnits(file: string): RecurrenceUnit[] {
  const units = new Map<string, { entry: number; end: number; events: number[] }>()
  for (const { unit_id, at, kind } of publishedRows(file).toReversed()) {
    const known = units.get(unit_id) ?? { entry: 0, end: 0, events: [] }
    units.set(unit_id, known)
    if (kind === 'end') known.end = at
    else known.events.push(at)
  }
  return [...units.values()]
}

/** The definition: every unit looked at, at every age. */
function byHand(units: readonly RecurrenceUnit[]) {
  const counted = units.map(({ entry, end, events }) => ({ entry, end, events: events.filter(age => age > entry) }))
  const ages = [...new Set(counted.flatMap(({ events }) => events))].sort((a, b) => a - b)
  const at = ages.map(age => {
    const atRisk = counted.map(({ entry, end }) => entry < age && age <= end)
    const own = counted.map(({ events }) => events.filter(event => event === age).length)
    return { age, atRisk, own, r: atRisk.filter(Boolean).length, d: own.reduce((sum, n) => sum + n, 0) }
  })
  return at.map(({ age, r, d }, k) => {
    const past = at.slice(0, k + 1)
    const variance = counted.reduce((total, _, i) => {
      const score = past.reduce((sum, p) => (p.atRisk[i] ? sum + (p.own[i]! - p.d / p.r) / p.r : sum), 0)
      return total + score ** 2
    }, 0)
    return { age, r, d, mcf: past.reduce((sum, p) => sum + p.d / p.r, 0), variance }
  })
}

describe('published mean cumulative functions', () => {
  test('valve seats: every age, number at risk, estimate and robust standard error', () => {
    const { expected } = published.valve_seats
    const { units, events, points } = meanCumulativeFunction(publishedUnits('valve_seats.csv'))
    expect([units, events]).toEqual([41, 48])
    expect(points.map(point => point.at)).toEqual(expected.age)
    expect(points.map(point => point.at_risk)).toEqual(expected.at_risk)
    points.forEach(({ at, mcf, se }, i) => {
      expectPrinted(mcf, expected.mcf[i]!, 3, `estimate at ${at}`)
      expectPrinted(se, expected.se_robust[i]!, 3, `error at ${at}`)
    })
  })

  test('five machines: a repair at the age another machine ends at, repairs tied across machines', () => {
    const { inputs, expected } = published.five_machines
    const units = Object.values(inputs).map(history =>
      unit(Number.parseFloat(String(history.at(-1))), ...history.slice(0, -1).map(Number)),
    )
    const { points } = meanCumulativeFunction(units)
    // the table lists tied repairs one by one; ours stand together at their last line
    expected.time.forEach((age, i) => {
      if (expected.time[i + 1] === age) return
      expectPrinted(points.find(point => point.at === age)!.mcf, expected.mcf[i]!, 5, `at ${age}`)
    })
    expect(points).toHaveLength(new Set(expected.time).size)
  })

  test('three systems: the estimates and their variances as fractions', () => {
    const { expected } = published.three_systems
    const fraction = (text: string) => Number(text.split('/')[0]) / Number(text.split('/')[1])
    const { points } = meanCumulativeFunction([unit(12, 5, 8), unit(16), unit(20, 1, 8, 16)])
    expect(points.map(point => point.at)).toEqual([1, 5, 8, 16])
    points.forEach(({ mcf, se }, i) => {
      expect(mcf).toBeCloseTo(fraction(expected.mcf[i]!), 14)
      expect(se ** 2).toBeCloseTo(fraction(expected.var[i]!), 14)
    })
  })

  test('one loader alone: the estimate counts its repairs and has no spread', () => {
    const { points } = meanCumulativeFunction(publishedUnits('lhd_single.csv'))
    expect(points).toHaveLength(36)
    points.forEach(({ mcf, se, lower, upper }, i) => {
      expect([mcf, se, lower, upper]).toEqual([i + 1, 0, i + 1, i + 1])
    })
  })
})

const anyUnits = fc.array(
  fc
    .record({
      entry: fc.nat(8),
      length: fc.nat(12),
      events: fc.array(fc.double({ min: -0.4, max: 1, noNaN: true }), { maxLength: 6 }),
    })
    .map(({ entry, length, events }) => ({
      entry,
      end: entry + length,
      events: events.map(share => Math.round(entry + share * length)),
    })),
  { maxLength: 12 },
)

describe('meanCumulativeFunction', () => {
  test('agrees with the definition, with late entry and ties of every kind', () => {
    fc.assert(
      fc.property(anyUnits, units => {
        const wanted = byHand(units)
        const { points, events } = meanCumulativeFunction(units)
        expect(events).toBe(wanted.reduce((sum, point) => sum + point.d, 0))
        expect(points.map(({ at, at_risk, events: d }) => [at, at_risk, d])).toEqual(
          wanted.map(({ age, r, d }) => [age, r, d]),
        )
        points.forEach(({ mcf, se, lower, upper }, i) => {
          expect(mcf).toBeCloseTo(wanted[i]!.mcf, 11)
          expect(se ** 2).toBeCloseTo(wanted[i]!.variance, 11)
          expect(lower).toBeCloseTo(mcf - 1.959963984540054 * se, 11)
          expect(upper).toBeCloseTo(mcf + 1.959963984540054 * se, 11)
        })
      }),
      { numRuns: 300 },
    )
  })

  test('at a unit’s entry it is not yet at risk, at its end it still is', () => {
    const { points } = meanCumulativeFunction([
      { entry: 5, end: 9, events: [] },
      { entry: 0, end: 12, events: [5, 6, 9, 10] },
    ])
    expect(points.map(point => point.at_risk)).toEqual([1, 2, 2, 1])
  })

  test('events at or before entry are left out, two at one age are two', () => {
    const { events, points } = meanCumulativeFunction([{ entry: 3, end: 9, events: [1, 3, 4, 4] }])
    expect(events).toBe(2)
    expect(points).toMatchObject([{ at: 4, at_risk: 1, events: 2, mcf: 2, se: 0 }])
  })

  test('edges: no unit, no event, a unit without time, all alike', () => {
    expect(meanCumulativeFunction([])).toEqual({ units: 0, events: 0, points: [] })
    expect(meanCumulativeFunction([unit(10), unit(4)])).toEqual({ units: 2, events: 0, points: [] })
    expect(meanCumulativeFunction([{ entry: 4, end: 4, events: [4] }, unit(9, 5)]).points[0]!.at_risk).toBe(1)
    const alike = meanCumulativeFunction(Array.from({ length: 7 }, () => unit(20, 3, 3, 11)))
    expect(alike.points.map(({ mcf, se }) => [mcf, se])).toEqual([
      [2, 0],
      [3, 0],
    ])
  })

  test('twenty thousand units and a hundred thousand ages: no unit is looked at again at every age', () => {
    const units = Array.from({ length: 20_000 }, (_, i) => {
      const end = 1000 + ((i * 7919) % 3000)
      return {
        entry: 0,
        end,
        events: [1, 2, 3, 4, 5].map(k => ((i * 104_729 * k) % 1_000_003) * (end / 1_000_003) + 1e-6),
      }
    })
    const { points, events } = meanCumulativeFunction(units)
    expect(events).toBe(100_000)
    expect(points.length).toBeGreaterThan(80_000)
    const last = points.findLast(point => point.at_risk > 1000)!
    expect(last.mcf).toBeGreaterThan(4)
    expect(last.se / last.mcf).toBeLessThan(0.02)
    expect(points.every(({ se }) => Number.isFinite(se))).toBe(true)
  })

  test('refuses an event after its unit ended, and what is no age', () => {
    const late = 'meanCumulativeFunction requires events no later than the end of their unit'
    expect(() => meanCumulativeFunction([unit(5, 6)])).toThrow(late)
    expect(() => meanCumulativeFunction([unit(5, Number.NaN)])).toThrow(late)
    expect(() => meanCumulativeFunction([unit(Number.NaN)])).toThrow(
      'meanCumulativeFunction requires a finite entry and end',
    )
  })
})
