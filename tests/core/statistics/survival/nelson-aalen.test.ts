import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { nelsonAalen, type WatchedTime } from '../../../../src/core/statistics/survival/nelson-aalen.ts'
import published from '../../../published/statistics/nelson-aalen.json' with { type: 'json' }
import { publishedRows } from '../printed.ts'

/** The definition at one time: every earlier event time and everybody still there. */
function byHand(watched: readonly WatchedTime[], time: number): number {
  const times = new Set(watched.filter(one => one.event && one.time <= time).map(one => one.time))
  let hazard = 0
  for (const at of times) {
    const events = watched.filter(one => one.event && one.time === at).length
    hazard += events / watched.filter(one => one.time >= at).length
  }
  return hazard
}

const watchedTimes = fc.array(fc.record({ time: fc.nat(12), event: fc.boolean() }), { maxLength: 25 })

describe('nelsonAalen', () => {
  test('has the tabled numbers at risk in the leukemia trial and sums their fractions', () => {
    const rows = publishedRows('leukemia_6mp.csv')
    const watched = rows
      .filter(row => row.kind === 'end')
      .map(({ unit_id, at }) => ({
        time: at,
        event: rows.some(row => row.unit_id === unit_id && row.kind === 'repair' && row.at === at),
      }))
    expect(watched).toHaveLength(21)
    const { points, hazardAt } = nelsonAalen(watched.toReversed())
    const { at, events, at_risk } = published.expected
    expect(points.map(point => point.at)).toEqual(at)
    expect(points.map(point => point.events)).toEqual(events)
    expect(points.map(point => point.at_risk)).toEqual(at_risk)
    expect(hazardAt(6)).toBe(3 / 21)
    expect(hazardAt(16)).toBeCloseTo(3 / 21 + 1 / 17 + 1 / 15 + 1 / 12 + 1 / 11, 14)
    expect(hazardAt(35)).toBeCloseTo(3 / 21 + 1 / 17 + 1 / 15 + 1 / 12 + 1 / 11 + 1 / 7 + 1 / 6, 14)
  })

  test('agrees with the definition at every time, ties included', () => {
    fc.assert(
      fc.property(watchedTimes, watched => {
        const { hazardAt } = nelsonAalen(watched)
        for (let time = -1; time <= 14; time += 0.5) expect(hazardAt(time)).toBeCloseTo(byHand(watched, time), 12)
      }),
    )
  })

  test('sums to as many expected events as there were', () => {
    fc.assert(
      fc.property(watchedTimes, watched => {
        const { hazardAt } = nelsonAalen(watched)
        const expected = watched.reduce((sum, one) => sum + hazardAt(one.time), 0)
        expect(expected).toBeCloseTo(watched.filter(one => one.event).length, 10)
      }),
    )
  })

  test('edges: nobody, one, all censored, all at once, an event at zero', () => {
    expect(nelsonAalen([]).hazardAt(5)).toBe(0)
    expect(nelsonAalen([{ time: 3, event: true }]).hazardAt(3)).toBe(1)
    expect(
      nelsonAalen([
        { time: 3, event: false },
        { time: 4, event: false },
      ]).points,
    ).toEqual([])
    const tied = nelsonAalen([
      { time: 2, event: true },
      { time: 2, event: false },
      { time: 2, event: true },
    ])
    expect(tied.points).toEqual([{ at: 2, at_risk: 3, events: 2, hazard: 2 / 3 }])
    expect(
      nelsonAalen([
        { time: 0, event: true },
        { time: 5, event: false },
      ]).hazardAt(0),
    ).toBe(0.5)
    expect(tied.hazardAt(1e9)).toBe(2 / 3)
  })

  test('refuses what is no time', () => {
    for (const time of [-1, Number.NaN, Number.POSITIVE_INFINITY]) {
      expect(() => nelsonAalen([{ time, event: true }])).toThrow('nelsonAalen requires times of zero or more')
    }
    expect(() => nelsonAalen([]).hazardAt(Number.NaN)).toThrow(RangeError)
  })
})
