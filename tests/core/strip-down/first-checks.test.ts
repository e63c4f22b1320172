import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Check, type CheckStep, firstChecks } from '../../../src/core/strip-down/first-checks.ts'
import type { Task } from '../../../src/core/strip-down/task.ts'
import { leastByTrying } from './brute-force.ts'

const chance = fc.integer({ min: 0, max: 12 }).map(hundredths => hundredths / 100)
const minutes = fc.integer({ min: 0, max: 20 })

interface Problem {
  checks: Check[]
  steps: CheckStep[]
}
/** At most 8 checks and steps together. `mostNeeds` 1 makes a forest of steps, 2 lets a step need two others. */
function problems(mostNeeds: number, isWithRules: boolean): fc.Arbitrary<Problem> {
  return fc.integer({ min: 0, max: 4 }).chain(stepCount => {
    const steps = fc.array(fc.record({ minutes, needs: fc.array(fc.nat(), { maxLength: mostNeeds }) }), {
      minLength: stepCount,
      maxLength: stepCount,
    })
    const check = fc.record({
      chance,
      minutes,
      behind: fc.option(fc.nat(), { nil: null }),
      makes_safe: fc.integer({ max: 5, min: 0 }),
      not_before: fc.option(fc.nat(), { nil: null, freq: 3 }),
    })
    return fc
      .tuple(steps, fc.array(check, { minLength: 1, maxLength: 8 - stepCount }))
      .map(([someSteps, someChecks]) => ({
        steps: someSteps.map((step, at) => ({
          id: `s${at}`,
          minutes: step.minutes,
          needs: at === 0 ? [] : [...new Set(step.needs.map(need => `s${need % at}`))],
        })),
        checks: someChecks.map((one, at) => ({
          id: `c${at}`,
          chance: one.chance,
          minutes: one.minutes,
          behind: one.behind === null || stepCount === 0 ? undefined : `s${one.behind % stepCount}`,
          makes_safe: isWithRules && one.makes_safe === 0,
          not_before: isWithRules && one.not_before !== null && at > 0 ? [`c${one.not_before % at}`] : [],
        })),
      }))
  })
}

/** The problem as tasks, written out without any of the code under test: only steps that some check is behind. */
function tasksByHand({ checks, steps }: Problem): { tasks: Task[]; first: Set<number> } {
  const reach = (id: string): string[] => [id, ...steps.find(step => step.id === id)!.needs.flatMap(reach)]
  const needed = [...new Set(checks.flatMap(check => [check.behind ?? []].flat().flatMap(reach)))]
  const ids = [...checks.map(check => check.id), ...needed]
  const place = (id: string) => ids.indexOf(id)
  const tasks = [
    ...checks.map((check, rank) => ({
      ...check,
      rank,
      is_check: true,
      after: [...[check.behind ?? []].flat(), ...check.not_before!].map(place),
    })),
    ...needed.map(id => {
      const step = steps.find(one => one.id === id)!
      return { chance: 0, minutes: step.minutes, rank: 0, is_check: false, after: step.needs.map(place) }
    }),
  ]
  const first = new Set<number>()
  const add = (at: number): void => {
    first.add(at)
    tasks[at]!.after.forEach(add)
  }
  checks.forEach((check, at) => {
    if (check.makes_safe) add(at)
  })
  return { tasks, first }
}

/** What the answer costs, walked by hand: every step is opened when it is first needed, and not before. */
function costByHand({ checks, steps }: Problem, order: string[]): number {
  const open = new Set<string>()
  let clock = 0
  const openUp = (id: string): void => {
    if (open.has(id)) return
    const step = steps.find(one => one.id === id)!
    step.needs.forEach(openUp)
    open.add(id)
    clock += step.minutes
  }
  return order.reduce((sum, id) => {
    const check = checks.find(one => one.id === id)!
    for (const step of [check.behind ?? []].flat()) openUp(step)
    clock += check.minutes
    return sum + check.chance * clock
  }, 0)
}

function agree(problem: Problem): void {
  const answer = firstChecks(problem.checks, problem.steps)
  const { tasks, first } = tasksByHand(problem)
  const least = leastByTrying(tasks, at => first.has(at))
  expect(answer.expected_minutes).toBeCloseTo(least, 9)
  expect(costByHand(problem, answer.order)).toBeCloseTo(least, 9)
  expect(answer.is_best).toBe(true)
  expect([...answer.order].sort()).toEqual(problem.checks.map(check => check.id).sort())
  expect(answer.expected_minutes_most_likely_first).toBeGreaterThanOrEqual(least - 1e-9)
}

describe('firstChecks against every order there is, up to 8 checks and steps', () => {
  it('is best on trees of steps', () => {
    fc.assert(fc.property(problems(1, false), agree), { numRuns: 1000 })
  }, 30_000)

  it('is best where a step needs two others', () => {
    fc.assert(fc.property(problems(2, false), agree), { numRuns: 1000 })
  }, 30_000)

  it('is best under what makes safe and what must not come before', () => {
    fc.assert(fc.property(problems(2, true), agree), { numRuns: 2000 })
  }, 30_000)
})

describe('firstChecks', () => {
  const plain = [
    { id: 'fuse', chance: 0.1, minutes: 1 },
    { id: 'pump', chance: 0.5, minutes: 20 },
    { id: 'filter', chance: 0.2, minutes: 5 },
  ]

  it('without steps goes by falling chance per minute (Kadane & Simon 1977)', () => {
    const answer = firstChecks(plain, [])
    expect(answer.order).toEqual(['fuse', 'filter', 'pump'])
    expect(answer.expected_minutes).toBeCloseTo(0.1 * 1 + 0.2 * 6 + 0.5 * 26, 12)
    expect(answer.expected_minutes_most_likely_first).toBeCloseTo(0.5 * 20 + 0.2 * 25 + 0.1 * 26, 12)
  })

  it('opens up only when what is behind is worth it, and shows where', () => {
    const steps = [
      { id: 'cover off', minutes: 10, needs: [] },
      { id: 'tank out', minutes: 30, needs: ['cover off'] },
    ]
    const checks = [
      { id: 'sender', chance: 0.3, minutes: 2, behind: 'tank out' },
      { id: 'hose', chance: 0.2, minutes: 1, behind: 'cover off' },
      { id: 'fuse', chance: 0.02, minutes: 1 },
    ]
    const answer = firstChecks(checks, [...steps, { id: 'never needed', minutes: 99, needs: [] }])
    expect(answer.sequence).toEqual([
      { kind: 'check', id: 'fuse', ends_at: 1 },
      { kind: 'step', id: 'cover off', ends_at: 11 },
      { kind: 'check', id: 'hose', ends_at: 12 },
      { kind: 'step', id: 'tank out', ends_at: 42 },
      { kind: 'check', id: 'sender', ends_at: 44 },
    ])
  })

  it('makes safe before all else, with the steps it needs', () => {
    const safe = { id: 'discharge', chance: 0, minutes: 5, behind: 'floor up', makes_safe: true }
    const answer = firstChecks([...plain, safe], [{ id: 'floor up', minutes: 15, needs: [] }])
    expect(answer.order).toEqual(['discharge', 'fuse', 'filter', 'pump'])
    expect(answer.sequence.slice(0, 2).map(item => item.id)).toEqual(['floor up', 'discharge'])
    expect(answer.expected_minutes_most_likely_first).toBeCloseTo(0.5 * 40 + 0.2 * 45 + 0.1 * 46, 12)
  })

  it('keeps one check from coming before another, in both orders', () => {
    const answer = firstChecks(
      plain.map(check => (check.id === 'fuse' ? { ...check, not_before: ['pump'] } : check)),
      [],
    )
    expect(answer.order).toEqual(['filter', 'pump', 'fuse'])
    const likely = firstChecks(
      plain.map(check => (check.id === 'pump' ? { ...check, not_before: ['fuse'] } : check)),
      [],
    )
    // Most likely of what may be made: filter, fuse, then pump.
    expect(likely.expected_minutes_most_likely_first).toBeCloseTo(0.2 * 5 + 0.1 * 6 + 0.5 * 26, 12)
  })

  it('keeps the order given where choices are equal', () => {
    const equal = ['b', 'c', 'a'].map(id => ({ id, chance: 0.1, minutes: 3 }))
    expect(firstChecks(equal, []).order).toEqual(['b', 'c', 'a'])
    const behind = { id: 'x', chance: 0.2, minutes: 5, behind: 's' }
    const free = { id: 'w', chance: 0.02, minutes: 1 }
    const step = { id: 's', minutes: 5, needs: [] }
    expect(firstChecks([behind, free], [step]).order).toEqual(['x', 'w'])
    expect(firstChecks([free, behind], [step]).order).toEqual(['w', 'x'])
    const dust = [
      { id: 'b', chance: 0.1, minutes: 3 },
      { id: 'a', chance: 0.3, minutes: 9 },
      { id: 'c', chance: 0.2, minutes: 6 },
    ]
    expect(firstChecks(dust, []).order).toEqual(['b', 'a', 'c'])
    const nothing = ['z', 'y'].map(id => ({ id, chance: 0, minutes: 0 }))
    expect(firstChecks([...nothing, ...dust], []).order).toEqual(['b', 'a', 'c', 'z', 'y'])
    const [behindTwo, open] = [
      { id: 'x', chance: 0.2, minutes: 1, behind: ['s', 't'] },
      { id: 'w', chance: 0.1, minutes: 2 },
    ]
    const steps = ['s', 't'].map(id => ({ id, minutes: 1.5, needs: [] }))
    expect(firstChecks([behindTwo, open], steps).order).toEqual(['x', 'w'])
    expect(firstChecks([open, behindTwo], steps).order).toEqual(['w', 'x'])
  })

  it('refuses what cannot be put in order', () => {
    const one = { id: 'a', chance: 0.5, minutes: 1 }
    expect(() => firstChecks([{ ...one, chance: 1.1 }], [])).toThrow('firstChecks requires chances from zero to one')
    expect(() => firstChecks([one, { ...one, id: 'b', chance: 0.51 }], [])).toThrow('add up to at most one')
    expect(() => firstChecks([{ ...one, minutes: Number.NaN }], [])).toThrow(
      'firstChecks requires minutes of zero or more',
    )
    expect(() => firstChecks([one, one], [])).toThrow('firstChecks requires each id once')
    expect(() => firstChecks([{ ...one, behind: 'x' }], [])).toThrow('known access step, got x')
    expect(() => firstChecks([{ ...one, not_before: ['x'] }], [])).toThrow('firstChecks requires known checks')
    const circle = [
      { ...one, not_before: ['b'] },
      { ...one, id: 'b', not_before: ['a'] },
    ]
    expect(() => firstChecks(circle, [])).toThrow('do not wait for each other in a circle: a, b')
    expect(firstChecks([], [])).toMatchObject({ order: [], expected_minutes: 0, is_best: true })
  })
})
