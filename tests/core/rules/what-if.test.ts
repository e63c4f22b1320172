import { expect, test } from 'vitest'
import { type JobLookedBackOn, whatIf } from '../../../src/comebacks/rules/what-if.ts'

const ASKED = { minutes: 6, rateMinor: 4000, from: '2031-01-01', asOf: '2033-01-01' }

const job = (returned: boolean, cost_minor: number | null = null): JobLookedBackOn => ({
  ...{ handed_back_on: '2031-05-04', returned, cost_minor },
})

test('minutes and money a year, and the comebacks with their exact limits', () => {
  const jobs = [job(true, 10_000), job(true), job(true, 2500), ...Array.from({ length: 17 }, () => job(false))]
  const answer = whatIf(jobs, ASKED)
  const years = 731 / 365.25
  expect(answer).toMatchObject({ jobs: 20, years, caught: 3, returns_cost_minor: 12_500, returns_costed: 2 })
  expect(answer.minutes_a_year).toBeCloseTo(120 / years, 12)
  // 2 h in those years at 40.00
  expect(answer.cost_a_year_minor).toBe(Math.round(8000 / years))
  expect(answer.returns_cost_a_year_minor).toBe(Math.round(12_500 / years))
  // Garwood (1936) for a count of 3: 0.6187 to 8.7673 (Ulm 1990, table; from memory)
  expect(answer.lower! * years).toBeCloseTo(0.6187, 4)
  expect(answer.upper! * years).toBeCloseTo(8.7673, 4)
})

test('no comeback is not none for ever: the upper limit is −ln 0.025', () => {
  const answer = whatIf([job(false)], ASKED)
  expect(answer).toMatchObject({ caught: 0, caught_a_year: 0, lower: 0 })
  expect(answer.upper! * answer.years).toBeCloseTo(-Math.log(0.025), 9)
})

test('without history there is no rate, and no job costs nothing', () => {
  expect(whatIf([], { ...ASKED, from: null })).toMatchObject({
    years: 0,
    jobs_a_year: null,
    caught_a_year: null,
    upper: null,
  })
  expect(whatIf([job(true)], { ...ASKED, from: '2033-01-01' })).toMatchObject({ minutes_a_year: null, caught: 1 })
  expect(whatIf([], ASKED)).toMatchObject({ jobs: 0, minutes_a_year: 0, cost_a_year_minor: 0, caught: 0 })
})
