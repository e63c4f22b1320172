import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkOrder } from '../../../src/core/strip-down/check-order.ts'
import { densestBlock } from '../../../src/core/strip-down/densest-block.ts'
import { outTreeOrder } from '../../../src/core/strip-down/out-tree-order.ts'
import { subsetOrder } from '../../../src/core/strip-down/subset-order.ts'
import { density, expectedMinutes, isGreater, type Task } from '../../../src/core/strip-down/task.ts'
import { leastBySets, leastByTrying } from './brute-force.ts'

/** Tasks each after at most `most` of those before it. */
function someTasks(least: number, greatest: number, most: number): fc.Arbitrary<Task[]> {
  const task = fc.record({
    chance: fc.integer({ min: 0, max: 9 }),
    minutes: fc.integer({ min: 0, max: 9 }),
    after: fc.array(fc.nat(), { maxLength: most }),
  })
  return fc.array(task, { minLength: least, maxLength: greatest }).map(list =>
    list.map(({ chance, minutes, after }, rank) => ({
      chance: chance / 100,
      minutes,
      rank,
      is_check: true,
      after: rank === 0 ? [] : [...new Set(after.map(before => before % rank))],
    })),
  )
}
const keeps = (tasks: readonly Task[], order: readonly number[]) =>
  order.length === tasks.length &&
  order.every((at, place) => tasks[at]!.after.every(before => order.indexOf(before) < place && order.includes(before)))

describe('outTreeOrder', () => {
  it('is best on thousands of forests', () => {
    fc.assert(
      fc.property(someTasks(1, 7, 1), tasks => {
        const order = outTreeOrder(tasks)!
        expect(keeps(tasks, order)).toBe(true)
        expect(expectedMinutes(tasks, order)).toBeCloseTo(leastByTrying(tasks), 9)
      }),
      { numRuns: 3000 },
    )
  })

  it('sees through a need that another need implies, and admits what is no forest', () => {
    const task = (after: number[]): Task => ({ chance: 0.1, minutes: 1, rank: 0, is_check: true, after })
    expect(outTreeOrder([task([]), task([0]), task([0, 1])])).toEqual([0, 1, 2])
    expect(outTreeOrder([task([]), task([]), task([0, 1])])).toBeNull()
  })
})

describe('subsetOrder', () => {
  it('is best under any order to keep', () => {
    fc.assert(
      fc.property(someTasks(1, 7, 3), tasks => {
        const order = subsetOrder(tasks)
        expect(keeps(tasks, order)).toBe(true)
        expect(expectedMinutes(tasks, order)).toBeCloseTo(leastByTrying(tasks), 9)
      }),
      { numRuns: 1000 },
    )
  })

  it('takes 18 tasks and refuses 19', () => {
    const tasks = (count: number): Task[] =>
      Array.from({ length: count }, (_, rank) => ({
        chance: (rank + 1) / 1000,
        minutes: 1,
        rank,
        is_check: true,
        after: [],
      }))
    expect(subsetOrder(tasks(18))).toEqual(Array.from({ length: 18 }, (_, at) => 17 - at))
    expect(() => subsetOrder(tasks(19))).toThrow('subsetOrder requires at most 18 tasks')
  })
})

describe('densestBlock', () => {
  it('is the densest of all sets that can be done first', () => {
    fc.assert(
      fc.property(someTasks(1, 8, 2), all => {
        const tasks = all.map(task => ({ ...task, minutes: task.minutes + 1 }))
        const sum = (set: readonly number[]) =>
          density({
            chance: set.reduce((total, at) => total + tasks[at]!.chance, 0),
            minutes: set.reduce((total, at) => total + tasks[at]!.minutes, 0),
          })
        const block = densestBlock(tasks)
        expect(block.every(at => tasks[at]!.after.every(before => block.includes(before)))).toBe(true)
        for (let mask = 1; mask < 2 ** tasks.length; mask++) {
          const set = tasks.flatMap((_, at) => (mask & (1 << at) ? [at] : []))
          const isClosed = set.every(at => tasks[at]!.after.every(before => set.includes(before)))
          if (isClosed) expect(isGreater(sum(set), sum(block) * (1 + 1e-9))).toBe(false)
        }
      }),
      { numRuns: 500 },
    )
  })
})

describe('checkOrder beyond 18 tasks', () => {
  it('is best where it says so, and otherwise at most twice the best', () => {
    const said = { best: 0, near: 0 }
    fc.assert(
      fc.property(someTasks(19, 20, 2), tasks => {
        const { order, is_best } = checkOrder(tasks)
        expect(keeps(tasks, order)).toBe(true)
        const least = leastBySets(tasks)
        const cost = expectedMinutes(tasks, order)
        if (is_best) expect(cost).toBeCloseTo(least, 8)
        expect(cost).toBeLessThanOrEqual(2 * least + 1e-9)
        said[is_best ? 'best' : 'near'] += 1
      }),
      { numRuns: 40 },
    )
    expect(said.best).toBeGreaterThan(0)
  }, 60_000)

  it('says near best where one block is too large to be tried', () => {
    // Nothing can be found before everything is open: one block of 20 tasks, no two steps of which wait for each other.
    const steps: Task[] = Array.from({ length: 19 }, (_, rank) => ({
      chance: 0,
      minutes: 1,
      rank,
      is_check: false,
      after: [],
    }))
    const last: Task = { chance: 1, minutes: 1, rank: 0, is_check: true, after: steps.map((_, at) => at) }
    const answer = checkOrder([...steps, last])
    expect(answer.is_best).toBe(false)
    expect(keeps([...steps, last], answer.order)).toBe(true)
  })
})
