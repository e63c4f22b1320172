import { describe, expect, test } from 'vitest'
import { recurrenceUnit } from '../../../../src/core/statistics/recurrence/recurrence-unit.ts'
import type { Clock, LifeRecord, VehicleLife } from '../../../../src/core/statistics/recurrence/vehicle-life.ts'
import { vehicleTime } from '../../../../src/core/statistics/recurrence/vehicle-time.ts'

const seen = (day: number, km: number | null, display_replaced = false): LifeRecord => ({
  kind: 'seen',
  day,
  km,
  display_replaced,
})
const inService = (day: number, km: number | null = null): LifeRecord => ({ kind: 'in_service', day, km })
const work = (day: number | null, km: number | null = null): LifeRecord => ({
  kind: 'work',
  day,
  km,
  operation: 1,
  by: 'us',
})
const failure = (day: number, km: number | null = null): LifeRecord => ({
  kind: 'failure',
  day,
  km,
  failure: 1,
  cost_minor: null,
})

/** The odometer in km on each of the days. */
function kmOn(records: LifeRecord[], days: number[], asOf = 1000): number[] {
  const time = vehicleTime(records, 'distance', asOf)!
  return days.map(day => time.placeOf(day) / 1_000_000)
}

describe('vehicleTime', () => {
  test('runs from the first dated record of any kind to the last that is seen', () => {
    const records = [failure(40), seen(10, null), work(null), inService(12), work(55)]
    expect(vehicleTime(records, 'days', 100)).toMatchObject({ firstDay: 10, lastDay: 55 })
    expect(vehicleTime(records, 'days', 54)).toMatchObject({ firstDay: 10, lastDay: 40 })
    expect(vehicleTime(records, 'days', 9)).toBeNull()
    expect(vehicleTime([work(null)], 'days', 9)).toBeNull()
    expect(vehicleTime(records, 'days', 100)!.placeOf(41)).toBe(41)
  })

  test('fills in a reading by straight line between neighbours, flat before the first and beyond the last', () => {
    const records = [work(0), seen(10, 1000), failure(15), seen(20, 2000), failure(30)]
    expect(kmOn(records, [0, 10, 15, 17, 20, 30])).toEqual([1000, 1000, 1500, 1700, 2000, 2000])
  })

  test('in service without a distance reads 0', () => {
    expect(kmOn([inService(0), seen(10, 500)], [0, 5, 10])).toEqual([0, 250, 500])
    expect(kmOn([inService(0, 40), seen(10, 500)], [0])).toEqual([40])
  })

  test('leaves out a reading below an earlier one', () => {
    expect(kmOn([seen(0, 100), seen(10, 90), seen(20, 300)], [10])).toEqual([200])
    expect(kmOn([seen(0, 100), seen(10, 100), seen(20, 300)], [10])).toEqual([100])
    expect(kmOn([seen(0, 900), inService(10), seen(20, 1000)], [10])).toEqual([950])
  })

  test('after a replaced display adds the old last reading', () => {
    const records = [seen(0, 0), seen(10, 1000), seen(20, 5, true), seen(30, 105), seen(40, 50)]
    expect(kmOn(records, [10, 15, 20, 30, 40])).toEqual([1000, 1002.5, 1005, 1105, 1105])
    expect(kmOn([...records, seen(50, 0, true), seen(60, 10)], [50, 60])).toEqual([1105, 1115])
    expect(kmOn([seen(5, 30, true), seen(15, 40)], [5, 15])).toEqual([30, 40])
  })

  test('on the day of the replacement the old display’s readings come first', () => {
    expect(kmOn([seen(20, 0, true), seen(20, 1200), seen(0, 1000), seen(30, 50)], [20, 30])).toEqual([1200, 1250])
  })

  test('of several readings on one day the greatest counts', () => {
    expect(kmOn([seen(10, 400), seen(10, 700), seen(10, 500), seen(20, 900)], [10, 15])).toEqual([700, 800])
  })

  test('does not see a reading after the day it is asked for', () => {
    expect(kmOn([seen(0, 0), seen(10, 100), seen(20, 5000)], [15], 19)).toEqual([100])
    expect(vehicleTime([failure(3), seen(20, 50)], 'distance', 10)).toBeNull()
  })

  test('places by distance are whole millimetres, so that equal places are equal', () => {
    const { placeOf } = vehicleTime([seen(0, 0), seen(3, 1)], 'distance', 10)!
    expect([0, 1, 2, 3].map(placeOf)).toEqual([0, 333_333, 666_667, 1_000_000])
  })

  test('refuses a reading below zero', () => {
    for (const km of [-1, Number.NaN]) {
      expect(() => vehicleTime([seen(0, km)], 'distance', 10)).toThrow('odometerLine requires readings of zero or more')
    }
  })
})

describe('recurrenceUnit', () => {
  const unitOf = (records: LifeRecord[], clock: Clock, firstRegisteredDay: number | null = null, asOf = 1000) =>
    recurrenceUnit(
      { vehicle: 'V', family: 1, records, firstRegisteredDay } satisfies VehicleLife & {
        firstRegisteredDay: number | null
      },
      clock,
      asOf,
      record => record.kind === 'failure',
    )

  test('counts age from in service, and enters there', () => {
    const records = [inService(100, 20), failure(150, 1020), failure(150), work(null), seen(300, 5020)]
    expect(unitOf(records, 'days')).toEqual({ entry: 0, end: 200, events: [50, 50] })
    expect(unitOf(records, 'distance')).toEqual({ entry: 0, end: 5000, events: [1000, 1000] })
    expect(unitOf(records, 'days', 40)).toEqual({ entry: 0, end: 200, events: [50, 50] })
    expect(unitOf(records, 'days', null, 200)).toEqual({ entry: 0, end: 50, events: [50, 50] })
  })

  test('failing that from first registration, entering at the first record; by distance age is the odometer', () => {
    const records = [seen(100, 30_000), failure(150, 31_000), seen(300, 35_000)]
    expect(unitOf(records, 'days', 40)).toEqual({ entry: 60, end: 260, events: [110] })
    expect(unitOf(records, 'distance', 40)).toEqual({ entry: 30_000, end: 35_000, events: [31_000] })
    expect(unitOf(records, 'days', 120)).toEqual({ entry: 0, end: 180, events: [30] })
  })

  test('is none without an age zero that is known by then, or without a reading by distance', () => {
    expect(unitOf([seen(100, 5), failure(150)], 'days')).toBeNull()
    expect(unitOf([seen(100, 5), inService(150)], 'days', null, 120)).toBeNull()
    expect(unitOf([seen(100, 5)], 'days', 130, 120)).toBeNull()
    expect(unitOf([seen(100, null)], 'distance', 50)).toBeNull()
  })
})
