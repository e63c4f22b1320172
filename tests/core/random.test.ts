import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type RandomState, random } from '../../src/core/random.ts'
import published from '../published/statistics/xoshiro128.json' with { type: 'json' }

const draws = <T>(count: number, draw: () => T): T[] => Array.from({ length: count }, draw)

describe('random', () => {
  test('gives the words of the reference implementation', () => {
    const source = random(published.inputs as unknown as RandomState)
    expect(draws(10, source.word)).toEqual(published.expected)
  })

  test('gives the same numbers for the same seed and others for another', () => {
    const first = draws(20, random(42).uniform)
    expect(draws(20, random(42).uniform)).toEqual(first)
    expect(draws(20, random(43).uniform)).not.toEqual(first)
  })

  test('refuses a seed that is not whole and a state of nothing', () => {
    expect(() => random(0.5)).toThrow('random requires a whole number as seed')
    expect(() => random(Number.NaN)).toThrow(RangeError)
    expect(() => random([0, 0, 0, 0])).toThrow('random requires a state that is not all zero')
  })

  test('uniform numbers lie in [0, 1) and fill its tenths evenly', () => {
    const source = random(1)
    const tenths = new Array<number>(10).fill(0)
    for (const value of draws(100_000, source.uniform)) tenths[Math.floor(value * 10)]!++
    // chi-square with 9 degrees of freedom: 27.88 is its 99.9 % point
    expect(tenths.reduce((sum, n) => sum + (n - 10_000) ** 2 / 10_000, 0)).toBeLessThan(27.88)
  })

  test('whole numbers are even below any bound and reach every number below it', () => {
    const source = random(2)
    const seen = new Array<number>(6).fill(0)
    for (const value of draws(60_000, () => source.integer(6))) seen[value]!++
    // chi-square with 5 degrees of freedom: 20.52 is its 99.9 % point
    expect(seen.reduce((sum, n) => sum + (n - 10_000) ** 2 / 10_000, 0)).toBeLessThan(20.52)
    expect(source.integer(1)).toBe(0)
    for (const bound of [0, -1, 1.5, 2 ** 33]) expect(() => source.integer(bound)).toThrow(RangeError)
  })

  test('normal numbers have the moments of the normal distribution', () => {
    const values = draws(100_000, random(3).normal)
    const moment = (power: number) => values.reduce((sum, value) => sum + value ** power, 0) / values.length
    expect(Math.abs(moment(1))).toBeLessThan(0.0125)
    expect(Math.abs(moment(2) - 1)).toBeLessThan(0.02)
    expect(Math.abs(moment(4) - 3)).toBeLessThan(0.15)
  })

  test('a shuffle keeps the items, leaves the list alone, and gives every order alike', () => {
    const source = random(4)
    const list = ['a', 'b', 'c']
    const orders = new Map<string, number>()
    for (const order of draws(6000, () => source.shuffle(list).join('')))
      orders.set(order, (orders.get(order) ?? 0) + 1)
    expect(list).toEqual(['a', 'b', 'c'])
    expect(orders.size).toBe(6)
    for (const count of orders.values()) expect(Math.abs(count - 1000)).toBeLessThan(120)
  })

  test('a sample without replacement has no item twice', () => {
    fc.assert(
      fc.property(fc.integer(), fc.nat(30), fc.nat(30), (seed, size, wanted) => {
        const items = Array.from({ length: size }, (_, i) => i)
        const count = Math.min(size, wanted)
        const sample = random(seed).sampleWithoutReplacement(items, count)
        expect(new Set(sample).size).toBe(count)
        expect(sample.every(item => items.includes(item))).toBe(true)
      }),
    )
    expect(() => random(1).sampleWithoutReplacement([1, 2], 3)).toThrow(RangeError)
  })
})
