import { describe, expect, test } from 'vitest'
import { drivenLine } from '../../../src/take-in/rules/driven.ts'

const reading = (on: string, distance_km: number, display_replaced = false) => ({ on, distance_km, display_replaced })

describe('drivenLine', () => {
  test('a straight line between two readings, nothing before the first and beyond the last', () => {
    const line = drivenLine([reading('2030-01-01', 1000), reading('2030-01-11', 2000)], null)
    expect(line.drivenOn('2030-01-01')).toEqual({ km: 1000, is_estimated: false })
    expect(line.drivenOn('2030-01-04')).toEqual({ km: 1300, is_estimated: true })
    expect(line.drivenOn('2030-01-11')).toEqual({ km: 2000, is_estimated: false })
    expect(line.drivenOn('2029-12-31')).toBeNull()
    expect(line.drivenOn('2030-01-12')).toBeNull()
    expect(line.was_replaced).toBe(false)
    expect(drivenLine([], null).drivenOn('2030-01-01')).toBeNull()
  })

  test('begins at zero on the day it went into service', () => {
    const line = drivenLine([reading('2030-01-11', 2000)], '2030-01-01')
    expect(line.drivenOn('2030-01-01')).toEqual({ km: 0, is_estimated: false })
    expect(line.drivenOn('2030-01-06')).toEqual({ km: 1000, is_estimated: true })
  })

  test('a reading that runs backwards is left out and told of; a replaced display goes on from the old one', () => {
    const before = [reading('2030-01-01', 9000), reading('2030-01-11', 900), reading('2030-01-21', 9400)]
    const line = drivenLine(before, null)
    expect(line.runsBackwards('2030-01-11', 900)).toBe(true)
    expect(line.runsBackwards('2030-01-21', 9400)).toBe(false)
    expect(line.drivenOn('2030-01-11')).toEqual({ km: 9200, is_estimated: true })
    const after = drivenLine([...before, reading('2030-02-01', 0, true), reading('2030-02-11', 300)], null)
    expect(after.was_replaced).toBe(true)
    expect(after.runsBackwards('2030-02-01', 0)).toBe(false)
    expect(after.runsBackwards('2030-02-11', 300)).toBe(false)
    expect(after.drivenOn('2030-02-11')).toEqual({ km: 9700, is_estimated: false })
  })

  test('two readings of one day, in and out, run forwards', () => {
    const line = drivenLine([reading('2030-01-01', 500), reading('2030-01-02', 620), reading('2030-01-02', 600)], null)
    expect([line.runsBackwards('2030-01-02', 600), line.runsBackwards('2030-01-02', 620)]).toEqual([false, false])
    expect(line.drivenOn('2030-01-02')).toEqual({ km: 620, is_estimated: false })
  })
})
