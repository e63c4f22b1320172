import fc from 'fast-check'
import { Temporal } from 'temporal-polyfill'
import { describe, expect, test } from 'vitest'
import {
  addDays,
  addMonths,
  dateOfDay,
  dayNumber,
  daysBetween,
  isCalendarDate,
  localDateOf,
  localTimeOf,
  monthBounds,
  monthOf,
  startOfDayMs,
} from '../../src/core/calendar.ts'
import { roughDate } from '../../src/core/rough-date.ts'

const EPOCH = Temporal.PlainDate.from('1970-01-01')
const anyDay = fc.integer({ min: -719_528, max: 2_932_896 })

describe('dayNumber and dateOfDay', () => {
  test('agree with a full calendar library on any day of the years 0000 to 9999', () => {
    fc.assert(
      fc.property(anyDay, day => {
        const date = EPOCH.add({ days: day }).toString()
        expect(dateOfDay(day)).toBe(date)
        expect(dayNumber(date)).toBe(day)
      }),
    )
  })

  test('agree with it on every day over a change of century and a leap century', () => {
    for (let day = dayNumber('1999-12-01'); day <= dayNumber('2000-03-31'); day++) {
      expect(dateOfDay(day)).toBe(EPOCH.add({ days: day }).toString())
    }
    expect(daysBetween('1900-02-28', '1900-03-01')).toBe(1)
    expect(daysBetween('2000-02-28', '2000-03-01')).toBe(2)
  })

  test.each([
    '2031-02-30',
    '2031-13-01',
    '2031-00-10',
    '2031-01-00',
    '2031-1-1',
    '2031-01-01T00',
    '',
    '20310101..',
    'abcd-ef-gh',
  ])('refuse %j', text => {
    expect(isCalendarDate(text)).toBe(false)
    expect(() => dayNumber(text)).toThrow('dayNumber requires a day that exists, as YYYY-MM-DD')
  })

  test('know the leap days', () => {
    expect(['2028-02-29', '2000-02-29', '1900-02-29', '2031-02-29'].map(isCalendarDate)).toEqual([
      true,
      true,
      false,
      false,
    ])
  })

  test('refuse half days and years of five digits', () => {
    expect(() => dateOfDay(0.5)).toThrow('dateOfDay requires a whole number of days')
    expect(() => dateOfDay(2_932_897)).toThrow(RangeError)
    expect(() => dateOfDay(-719_529)).toThrow(RangeError)
  })
})

describe('steps on the calendar', () => {
  test('days and months are added as a calendar library adds them', () => {
    fc.assert(
      fc.property(fc.integer({ min: -300_000, max: 300_000 }), fc.integer({ min: -5000, max: 5000 }), (day, step) => {
        const date = EPOCH.add({ days: day })
        expect(addDays(date.toString(), step)).toBe(date.add({ days: step }).toString())
        expect(addMonths(date.toString(), step)).toBe(date.add({ months: step }).toString())
      }),
    )
    expect(addMonths('2031-01-31', 1)).toBe('2031-02-28')
    expect(() => addMonths('2031-02-30', 1)).toThrow(RangeError)
    expect(() => addMonths('2031-02-20', 0.5)).toThrow('addMonths requires a whole number of months')
  })

  test('a month has its first and last day', () => {
    expect(monthOf('2031-02-28')).toBe('2031-02')
    expect(monthBounds('2028-02')).toEqual({ first: '2028-02-01', last: '2028-02-29' })
    expect(monthBounds('2031-12')).toEqual({ first: '2031-12-01', last: '2031-12-31' })
    expect(() => monthBounds('2031-13')).toThrow('monthBounds requires a month as YYYY-MM')
  })

  test('a rough date stands on the 15th of its month or on 1 July of its year', () => {
    expect(roughDate('2019-05-03')).toEqual({ on: '2019-05-03', exactness: 'day' })
    expect(roughDate('2019-05')).toEqual({ on: '2019-05-15', exactness: 'month' })
    expect(roughDate('2019')).toEqual({ on: '2019-07-01', exactness: 'year' })
    expect(roughDate('2019-13')).toBeNull()
    expect(roughDate('last summer')).toBeNull()
    for (const text of ['2029-2', '02/2029', '2.2029', 'February 2029', 'feb 2029', 'Feb. 2029']) {
      expect(roughDate(text), text).toEqual({ on: '2029-02-15', exactness: 'month' })
    }
    for (const text of ['13/2029', '0.2029', 'Ju 2029', 'Febtember 2029', '12/02/2029'])
      expect(roughDate(text), text).toBeNull()
  })
})

describe('local time', () => {
  const winterEvening = Date.UTC(2031, 0, 14, 23, 30)

  test('the day and the time are those on the wall of the place', () => {
    expect(localDateOf(winterEvening, 'UTC')).toBe('2031-01-14')
    expect(localDateOf(winterEvening, 'Europe/Paris')).toBe('2031-01-15')
    expect(localTimeOf(winterEvening, 'Europe/Paris')).toBe('00:30')
    expect(localTimeOf(winterEvening + 59_999, 'UTC')).toBe('23:30')
  })

  test('a day begins at its midnight there, also on the day the clocks change', () => {
    expect(startOfDayMs('2031-01-15', 'Europe/Paris')).toBe(Date.UTC(2031, 0, 14, 23))
    const day = (date: string) => startOfDayMs(addDays(date, 1), 'Europe/Paris') - startOfDayMs(date, 'Europe/Paris')
    expect(day('2031-03-30')).toBe(23 * 3_600_000)
    expect(day('2031-10-26')).toBe(25 * 3_600_000)
  })
})
