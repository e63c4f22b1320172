import { describe, expect, test } from 'vitest'
import { odometerOddities, type Reading } from '../../../src/vehicles/rules.ts'

const TODAY = '2031-11-04'
const read = (on: string, distance_km: number, display_replaced = false): Reading => ({
  on,
  distance_km,
  display_replaced,
})
const says = (others: Reading[], reading: Reading) =>
  odometerOddities(others, reading, TODAY).map(odd => `${odd.field}: ${odd.detail.replaceAll('\u00a0', ' ')}`)

/** Rules of our own: no book says how much a vehicle may be driven. */
describe('what is odd about a reading', () => {
  test('lower than before, with the day in words', () => {
    expect(says([read('2031-06-02', 18_204)], read('2031-11-04', 17_950))).toEqual([
      'distance_km: 17 950 km is lower than the 18 204 km of 2 June 2031. Correct it, or say that the instrument was replaced.',
    ])
  })

  test('a digit too many, with one earlier reading, with several, and with none', () => {
    expect(says([read('2031-10-05', 48_120)], read('2031-11-04', 481_350))).toEqual([
      'distance_km: 433 230 km in 30 days since 5 October 2031, which is more than a vehicle is driven. Read it again.',
    ])
    const usual = [read('2030-11-04', 10_000), read('2031-05-04', 15_000), read('2031-10-04', 19_200)]
    expect(says(usual, read('2031-11-04', 191_000))[0]).toMatch(
      /171 800 km in 31 days .* where about \d+ km would be usual/,
    )
    expect(says([], read('2031-11-04', 4_812_000))).toEqual([
      'distance_km: 4 812 000 km is more than a vehicle is driven in its life. Read it again.',
    ])
  })

  test('nothing about what is usual, and about a replaced instrument', () => {
    expect(says([read('2031-10-05', 48_120)], read('2031-11-04', 55_000))).toEqual([])
    expect(says([], read('2031-11-04', 950_000))).toEqual([])
    expect(says([read('2031-10-05', 48_120)], read('2031-11-04', 3, true))).toEqual([])
  })

  test('a day that has not come', () => {
    expect(says([], read('2031-11-05', 10))).toEqual(['on: 5 November 2031 has not come yet. Correct the day.'])
  })
})
