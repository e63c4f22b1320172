import { describe, expect, test } from 'vitest'
import {
  type Check,
  EVER,
  firstGoodAfter,
  lastGoodBefore,
  spanOfDrop,
  spanOfOutside,
  standsOn,
} from '../../../src/core/fastening/known-good.ts'

const day = (on: string) => Date.parse(`${on}T00:00:00Z`)
const check = (id: string, made_on: string, found: Check['found'], recordedOn = made_on): Check => ({
  ...{ id, made_on, found },
  created_at: day(recordedOn) + 9 * 3_600_000,
})
const GOOD = check('a', '2031-01-15', 'good')
const OUTSIDE = check('c', '2031-03-10', 'outside')
const RIGHT_AGAIN = check('d', '2031-03-10', 'good')
const incident = { ...OUTSIDE, on: OUTSIDE.made_on }

describe('last known good (ISO 10012: since the last check that was good)', () => {
  test('is the last good check before, of one day the one recorded before', () => {
    const earlier = check('0', '2030-01-15', 'good')
    const sameDay = { ...check('b', '2031-03-10', 'good'), created_at: OUTSIDE.created_at - 1 }
    expect(lastGoodBefore([earlier, OUTSIDE, GOOD], incident)).toBe(GOOD)
    expect(lastGoodBefore([GOOD, OUTSIDE, RIGHT_AGAIN], incident)).toBe(GOOD)
    expect(lastGoodBefore([GOOD, sameDay, OUTSIDE], incident)).toBe(sameDay)
    expect(lastGoodBefore([OUTSIDE, check('x', '2031-02-01', 'outside')], incident)).toBeNull()
  })

  test('good again is the first good check after', () => {
    const later = check('e', '2031-04-01', 'good')
    expect(firstGoodAfter([later, RIGHT_AGAIN, OUTSIDE, GOOD], incident)).toBe(RIGHT_AGAIN)
    expect(firstGoodAfter([GOOD, OUTSIDE], incident)).toBeNull()
  })
})

test('an incident stands on a day until a check of then or before has found it good since', () => {
  const on = (checks: Check[], day: string) => standsOn(checks, incident, day)
  expect(on([GOOD, OUTSIDE], '2031-03-09')).toBe(false)
  expect(on([GOOD, OUTSIDE], '2031-03-10')).toBe(true)
  expect(on([GOOD, OUTSIDE, RIGHT_AGAIN], '2031-03-10')).toBe(false)
  expect(on([GOOD, OUTSIDE, check('e', '2031-04-01', 'good')], '2031-03-31')).toBe(true)
  expect(on([GOOD, OUTSIDE, check('e', '2031-04-01', 'good')], '2031-04-01')).toBe(false)
})

describe('the readings that are doubted', () => {
  test('run from the last good day to the day it is good again, both whole', () => {
    expect(spanOfOutside([GOOD, OUTSIDE, RIGHT_AGAIN], incident, 'UTC')).toEqual({
      from: day('2031-01-15'),
      judged_from: day('2031-03-10'),
      until: day('2031-03-11'),
    })
    expect(spanOfOutside([OUTSIDE], incident, 'UTC')).toEqual({ ...EVER, judged_from: day('2031-03-10') })
  })

  test('are those of the days of the workshop', () => {
    const { from } = spanOfOutside([GOOD, OUTSIDE], incident, 'Asia/Tokyo')
    expect(from).toBe(day('2031-01-15') - 9 * 3_600_000)
  })

  test('begin at a drop whose time is known', () => {
    const at = Date.parse('2031-03-05T12:00:00Z')
    const drop = { id: 'f', on: '2031-03-05', at, created_at: day('2031-03-20') }
    const later = check('g', '2031-03-25', 'good')
    expect(spanOfDrop([GOOD, later], drop, 'UTC')).toEqual({ from: at, judged_from: at, until: day('2031-03-26') })
    // a good check of a later day, recorded before anybody wrote of the drop, came after it
    expect(spanOfDrop([GOOD, check('h', '2031-03-15', 'good')], drop, 'UTC')).toBeNull()
    expect(spanOfDrop([check('h', '2031-03-05', 'good')], drop, 'UTC')).not.toBeNull()
  })
})
