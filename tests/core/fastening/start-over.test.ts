import { describe, expect, it } from 'vitest'
import type { FastenerRecord, StartOver } from '../../../src/core/fastening/fastener-progress.ts'
import { stages } from '../../../src/core/fastening/stages.ts'
import { at, pair, pass, records, type Said } from './torque-records.ts'

/** Records, and after the first `before` of them somebody starts over. */
function startedOver(before: number, ...said: Said[]): (FastenerRecord | StartOver)[] {
  const all = records(...said)
  const startOver: StartOver = { id: 'again', started_over: true, supersedes_id: null }
  return [...all.slice(0, before), startOver, ...all.slice(before)]
}

describe('stages after somebody started over', () => {
  it('count nothing that was recorded before, and go on in the order of the joint', () => {
    const state = stages(pair, startedOver(3, ...pass(1, 2), { position: 2, stage: 1 }))
    expect(state.complete).toBe(false)
    expect(state.next).toEqual({ action: 'restart', position: 1, fastener: 1, stage: 1 })
    expect(at(state, 1)).toMatchObject({ needs: 'restart', next_stage: 1, fault: { kind: 'joint_redone' } })
    expect(at(state, 2)).toMatchObject({ needs: 'restart', next_stage: 1 })
  })

  it('are complete again when every stage was done since, even of a joint that was complete', () => {
    const all = [...pass(1, 2), ...pass(2, 2)]
    expect(stages(pair, startedOver(4, ...all)).complete).toBe(false)
    const again = stages(pair, startedOver(4, ...all, ...pass(1, 2), ...pass(2, 2)))
    expect(again.complete).toBe(true)
    expect(at(again, 1)).toMatchObject({ caution: null, fault: null })
  })

  it('have a single-use fastener replaced when it was turned, and leave one that nobody touched', () => {
    const procedure = { ...pair, reuse: 'never' as const }
    const state = stages(procedure, startedOver(1, { position: 1, stage: 1 }))
    expect(at(state, 1)).toMatchObject({ needs: 'replace', fastener: 1 })
    expect(at(state, 2)).toMatchObject({ needs: 'tighten', fault: null })
    const renewed = stages(procedure, startedOver(1, { position: 1, stage: 1 }, ...pass(1, 2, 2), ...pass(2, 2)))
    expect(renewed.complete).toBe(true)
  })

  it('warn of a fastener that may be used again only after inspection', () => {
    const procedure = { ...pair, reuse: 'after_inspection' as const }
    const state = stages(procedure, startedOver(1, { position: 1, stage: 1 }, { position: 1, stage: 1 }))
    expect(at(state, 1).caution).toBe('inspect_before_use_again')
  })

  it('let a correction of an earlier record stay before it', () => {
    const state = stages(
      pair,
      startedOver(1, { position: 1, stage: 1, verdict: 'outside' }, { position: 1, stage: 1, supersedes_id: 'r1' }),
    )
    expect(at(state, 1)).toMatchObject({ needs: 'restart', next_stage: 1 })
  })
})
