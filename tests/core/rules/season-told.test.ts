import { describe, expect, test } from 'vitest'
import { placeInYear, seasonTold } from '../../../src/recurring-failures/rules/season-told.ts'

const year = (january: number, june = 0) => [january, 0, 0, 0, 0, june, 0, 0, 0, 0, 0, 0]
const jobs = new Array<number>(12).fill(10)

describe('seasonTold', () => {
  test('a season at five in a hundred or less, none shown above it', () => {
    expect(seasonTold({ months: year(9), jobs, p: 0.05 })).toBe('season')
    expect(seasonTold({ months: year(9), jobs, p: 0.051 })).toBe('not_shown')
  })

  test('cannot tell with fewer than five, and with more troubles than jobs', () => {
    expect(seasonTold({ months: year(4), jobs, p: 0.001 })).toBe('cannot_tell')
    expect(seasonTold({ months: year(3, 2), jobs, p: 0.001 })).toBe('season')
    expect(seasonTold({ months: year(121), jobs, p: 1 })).toBe('cannot_tell')
    expect(seasonTold({ months: year(0), jobs: year(0), p: 1 })).toBe('cannot_tell')
  })
})

describe('placeInYear', () => {
  test.each([
    [0, 'early', 1],
    [9.9, 'early', 1],
    [15, 'mid', 1],
    [45, 'mid', 2],
    [59, 'late', 2],
    [60, 'early', 3],
    [359.9, 'late', 12],
    [360, 'early', 1],
    [-15, 'mid', 12],
  ] as const)('%s degrees lie %s in month %s', (degrees, third, month) => {
    expect(placeInYear(degrees)).toEqual({ third, month })
  })
})
