import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { accessClosure } from '../../../src/core/strip-down/access-closure.ts'
import { labour } from '../../../src/core/strip-down/labour.ts'

const steps = [
  { id: 'gearbox out', hours: 4.1, needs: ['exhaust off', 'shaft off'] },
  { id: 'exhaust off', hours: 0.7, needs: [] },
  { id: 'shaft off', hours: 0.4, needs: ['exhaust off'] },
  { id: 'wheels off', hours: 0.2, needs: [] },
]
const clutch = { id: 'clutch', hours: 1.1, access_step_ids: ['gearbox out'] }
const seal = { id: 'seal', hours: 0.5, access_step_ids: ['shaft off', 'wheels off'] }

describe('accessClosure', () => {
  it('opens every step after those it needs, each once', () => {
    const ids = accessClosure(steps, ['gearbox out', 'shaft off', 'wheels off']).map(step => step.id)
    expect(ids).toEqual(['exhaust off', 'shaft off', 'gearbox out', 'wheels off'])
  })

  it('names the steps that need each other in a circle', () => {
    const round = [
      { id: 'a', needs: ['b'] },
      { id: 'b', needs: ['c'] },
      { id: 'c', needs: ['b'] },
    ]
    const message = 'accessClosure requires access steps without a circle: b needs c needs b'
    expect(() => accessClosure(round, ['a'])).toThrow(new RangeError(message))
    expect(() => accessClosure([{ id: 'a', needs: ['a'] }], ['a'])).toThrow('a needs a')
  })

  it('refuses a step that nobody knows', () => {
    expect(() => accessClosure(steps, ['engine out'])).toThrow(
      'accessClosure requires a known access step, got engine out',
    )
  })

  it('keeps every need before its step in any catalogue without circles', () => {
    const catalogues = fc
      .array(fc.array(fc.nat(), { maxLength: 3 }), { minLength: 1, maxLength: 10 })
      .map(lists =>
        lists.map((needs, at) => ({ id: `s${at}`, needs: at === 0 ? [] : needs.map(need => `s${need % at}`) })),
      )
    fc.assert(
      fc.property(catalogues, fc.array(fc.nat(), { maxLength: 5 }), (catalogue, wanted) => {
        const ids = wanted.map(at => `s${at % catalogue.length}`)
        const opened = accessClosure(catalogue, ids)
        expect(new Set(opened).size).toBe(opened.length)
        for (const [place, step] of opened.entries())
          for (const need of step.needs)
            expect(opened.findIndex(one => one.id === need)).toSatisfy((at: number) => at >= 0 && at < place)
        for (const id of ids) expect(opened.map(step => step.id)).toContain(id)
      }),
    )
  })
})

describe('labour', () => {
  it('counts shared strip-down once', () => {
    const result = labour([clutch, seal], steps)
    expect(result.hours_together).toBe(7)
    expect(result.hours_apart).toBe(8.1)
    expect(result.jobs.map(job => job.operation_hours)).toEqual([6.3, 1.8])
    expect(result.steps.filter(step => step.job_ids.length > 1)).toEqual([
      { id: 'exhaust off', hours: 0.7, job_ids: ['clutch', 'seal'], times_opened_again: 0 },
      { id: 'shaft off', hours: 0.4, job_ids: ['clutch', 'seal'], times_opened_again: 0 },
    ])
  })

  it('counts a step opened again once more for each time', () => {
    const result = labour([clutch, seal], steps, ['shaft off', 'shaft off'])
    expect(result).toMatchObject({ hours_together: 7.8, hours_apart: 8.9, hours_opened_again: 0.8 })
    expect(result.steps.find(step => step.id === 'shaft off')!.times_opened_again).toBe(2)
  })

  it('is never more together than apart, and the same for one job alone', () => {
    const jobs = fc.array(
      fc.record({
        hours: fc.integer({ min: 0, max: 90 }).map(tenths => tenths / 10),
        access_step_ids: fc.subarray(steps.map(step => step.id)),
      }),
      { maxLength: 5 },
    )
    fc.assert(
      fc.property(jobs, some => {
        const named = some.map((job, at) => ({ ...job, id: `j${at}` }))
        const all = labour(named, steps)
        expect(all.hours_together).toBeLessThanOrEqual(all.hours_apart)
        const apart = named.reduce((sum, job) => sum + Math.round(labour([job], steps).hours_together * 10), 0)
        expect(Math.round(all.hours_apart * 10)).toBe(apart)
      }),
    )
  })

  it('refuses hours below zero and unknown steps', () => {
    expect(() => labour([{ ...clutch, hours: -1 }], steps)).toThrow('labour requires hours of zero or more')
    expect(() => labour([clutch], steps, ['engine out'])).toThrow('known access step, got engine out')
    expect(labour([], steps)).toMatchObject({ hours_together: 0, hours_apart: 0, jobs: [], steps: [] })
  })
})
