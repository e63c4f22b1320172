import { describe, expect, test } from 'vitest'
import { wellWatched } from '../../../../src/core/statistics/recurrence/well-watched.ts'

const unit = (entry: number, end: number, ...events: number[]) => ({ entry, end, events })

describe('wellWatched', () => {
  test('is the longest span of ages at which enough are at risk, counted from its beginning', () => {
    const units = [unit(0, 3, 1), unit(1, 30, 2, 20, 28), unit(5, 12, 8), unit(10, 25, 20)]
    // two at risk in (1, 3], (5, 25] (three of them in (10, 12]); by hand 1/2 at 8 and 2/2 at 20
    const found = wellWatched(units, 2)!
    expect([found.from, found.until, found.units, found.events]).toEqual([5, 25, 3, 3])
    expect(found.points.map(({ at, at_risk, mcf }) => [at, at_risk, mcf])).toEqual([
      [8, 2, 0.5],
      [20, 2, 1.5],
    ])
    expect(wellWatched(units, 3)).toMatchObject({ from: 10, until: 12, events: 0, points: [] })
  })

  test('is none where there never are so many, and where they only relieve each other', () => {
    expect(wellWatched([], 1)).toBeNull()
    expect(wellWatched([unit(0, 5, 1), unit(5, 9, 7)], 2)).toBeNull()
    expect(wellWatched([unit(3, 3), unit(0, 5)], 2)).toBeNull()
  })

  test('goes on where one leaves at the very age at which another comes', () => {
    expect(wellWatched([unit(0, 9), unit(0, 5), unit(5, 9, 7)], 2)).toMatchObject({ from: 0, until: 9 })
  })
})
