import { describe, expect, test } from 'vitest'
import { hasOwnFault, isHalfRedone, isRedoneAlone } from '../../../src/core/fastening/own-fault.ts'
import { stages } from '../../../src/core/fastening/stages.ts'
import { at, flange, pair, pass, records, type Said } from './torque-records.ts'

describe('a record put right', () => {
  test('on another position counts there, in the place of the old one', () => {
    const state = stages(
      pair,
      records({ position: 1, stage: 1 }, { position: 2, stage: 1, supersedes_id: 'r1' }, { position: 2, stage: 2 }),
    )
    expect(at(state, 1)).toMatchObject({ next_stage: 1, fault: null })
    expect(at(state, 2)).toMatchObject({ complete: true, stages: [{ record_id: 'r2' }, { record_id: 'r3' }] })
  })

  test('two angles that were written on each other’s bolt are right after both moves, and not after one', () => {
    const swapped: Said[] = [
      ...[1, 2].map(position => ({ position, stage: 1 })),
      ...[2, 1].map(position => ({ position, stage: 2 })),
    ]
    const one = stages(pair, records(...swapped, { position: 1, stage: 2, supersedes_id: 'r3' }))
    expect(at(one, 1).fault?.kind).toBe('out_of_turn')
    const moves: Said[] = [1, 2].map((position, nth) => ({ position, stage: 2, supersedes_id: `r${nth + 3}` }))
    expect(stages(pair, records(...swapped, ...moves)).complete).toBe(true)
  })

  test('withdrawn leaves nothing, neither of a reading nor of a fault', () => {
    const state = stages(
      pair,
      records(
        ...pass(1, 1),
        { position: 1, stage: 2, verdict: 'outside' },
        { position: 1, stage: 2, verdict: null, supersedes_id: 'r2', withdrawn: true },
        { position: 2, stage: 1 },
        { position: 2, stage: 1, verdict: null, supersedes_id: 'r4', withdrawn: true },
      ),
    )
    expect(at(state, 1)).toMatchObject({ next_stage: 2, needs: 'tighten', fault: null })
    expect(at(state, 2)).toMatchObject({ next_stage: 1, needs: 'tighten', fault: null })
  })
})

describe('done again by itself', () => {
  const bad: Said[] = [...pass(1, 1), { position: 1, stage: 2, verdict: 'outside' }]
  const first = (more: Said[], procedure = flange) => at(stages(procedure, records(...bad, ...more)), 1)

  test('half way from the first stage done again until it is back where it failed', () => {
    expect(isHalfRedone(first([]))).toBe(false)
    expect(isHalfRedone(first(pass(1, 1)))).toBe(true)
    expect(isHalfRedone(first(pass(1, 2)))).toBe(false)
    expect(isHalfRedone(first([{ position: 1, stage: 2, fastener: 2, event: 'replaced' }]))).toBe(true)
  })

  test('with the whole joint it is not by itself, and keeps to the order', () => {
    const whole = { ...flange, on_failure: 'redo_joint' } as const
    const state = stages(whole, records({ position: 4, stage: 1 }, ...bad))
    expect([isRedoneAlone(at(state, 1)), hasOwnFault(at(state, 1))]).toEqual([false, true])
    expect([isRedoneAlone(at(state, 4)), hasOwnFault(at(state, 4))]).toEqual([false, false])
  })
})
