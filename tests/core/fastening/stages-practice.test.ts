import { describe, expect, it } from 'vitest'
import type { JointProcedure } from '../../../src/core/fastening/fastener-progress.ts'
import { sequence } from '../../../src/core/fastening/sequence.ts'
import { stages } from '../../../src/core/fastening/stages.ts'
import { tolerance } from '../../../src/core/fastening/tolerance.ts'
import { verdict } from '../../../src/core/fastening/verdict.ts'
import { angle, records, type Said, torque } from './torque-records.ts'

// Common practice, no source.
describe('joints as they are tightened every day', () => {
  it('five fasteners on a circle to 40 N·m, then 32° more on each, new ones each time', () => {
    const order = sequence({ layout: 'circle', count: 5 })
    const procedure: JointProcedure = { stages: [torque, angle], order, reuse: 'never', on_failure: 'replace' }
    const done: Said[] = []
    const read = (position: number, stage: number, value: number, fastener = 1) => {
      const limits = stage === 1 ? tolerance({ target: 40 }, 500) : tolerance({ target: 32, lower: 28, upper: 36 }, 500)
      done.push({
        position,
        stage,
        fastener,
        verdict: verdict({ ...limits, value, uncertainty: stage === 1 ? 1 : 2 }).verdict,
      })
      return done.at(-1)!.verdict
    }
    expect(order.map(position => read(position, 1, 40.3))).toEqual(order.map(() => 'conforms'))
    expect(order.map(position => read(position, 2, position === 4 ? 39 : 32))).toEqual([
      'conforms',
      'conforms',
      'conforms',
      'conforms',
      'outside',
    ])
    expect(stages(procedure, records(...done)).next).toEqual({ action: 'replace', position: 4, fastener: 2, stage: 1 })
    read(4, 1, 39.6, 2)
    read(4, 2, 33, 2)
    expect(stages(procedure, records(...done))).toMatchObject({ complete: true, next: null })
  })

  it('12 N·m in criss-cross on cover screws that may be used again', () => {
    const order = sequence({ layout: 'circle', count: 6 })
    const procedure: JointProcedure = { stages: [torque], order, reuse: 'free', on_failure: 'restart' }
    const limits = tolerance({ target: 12 }, 500)
    expect(limits).toEqual({ lower: 11.4, upper: 12.6, default_used: true })
    const click = { verdict: 'as_set' as const, lower: limits.lower, upper: limits.upper, uncertainty: 0.48 }
    const done: Said[] = order.map(position => ({ position, stage: 1, ...click }))
    done[2] = { position: 2, stage: 1, event: 'slipped' }
    expect(stages(procedure, records(...done)).next).toEqual({ action: 'restart', position: 2, fastener: 1, stage: 1 })
    done.push({ position: 2, stage: 1, ...click })
    const state = stages(procedure, records(...done))
    expect(state.complete).toBe(true)
    expect(state.fasteners.every(one => one.caution === null)).toBe(true)
  })
})
