import { describe, expect, it, test } from 'vitest'
import type { JointProcedure } from '../../../src/core/fastening/fastener-progress.ts'
import { stages } from '../../../src/core/fastening/stages.ts'
import { at, pair, pass, records, type Said, torque } from './torque-records.ts'

describe('stages by the rule of the procedure', () => {
  it('restart: loosen, and all stages again on the same fastener', () => {
    const bad: Said[] = [
      { position: 1, stage: 1 },
      { position: 1, stage: 2, verdict: 'outside' },
    ]
    expect(at(stages(pair, records(...bad)), 1)).toMatchObject({
      redo: true,
      unsure: false,
      needs: 'restart',
      next_stage: 1,
    })
    const patched = stages(pair, records(...bad, { position: 1, stage: 2 }))
    expect(at(patched, 1)).toMatchObject({
      complete: false,
      needs: 'restart',
      fault: { kind: 'outside', record_id: 'r2' },
    })
    const halfWay = stages(pair, records(...bad, { position: 1, stage: 1 }))
    expect(at(halfWay, 1)).toMatchObject({ redo: true, needs: 'tighten', next_stage: 2 })
    const done = stages(pair, records(...bad, ...pass(1, 2)))
    expect(at(done, 1)).toMatchObject({ complete: true, redo: false, fault: null, fastener: 1 })
  })

  it('replace: nothing more counts on the old fastener, all stages on a new one do', () => {
    const procedure: JointProcedure = { ...pair, on_failure: 'replace' }
    const bad: Said[] = [
      { position: 1, stage: 1 },
      { position: 1, stage: 2, verdict: 'outside' },
    ]
    const state = stages(procedure, records(...bad, { position: 2, stage: 1 }, { position: 2, stage: 2 }))
    expect(state.next).toEqual({ action: 'replace', position: 1, fastener: 2, stage: 1 })
    expect(state.incomplete).toEqual([{ reason: 'replace', position: 1, fastener: 1, stage: 2, record_id: 'r2' }])
    expect(at(stages(procedure, records(...bad, ...pass(1, 2))), 1)).toMatchObject({
      complete: false,
      needs: 'replace',
    })
    const renewed = stages(procedure, records(...bad, ...pass(1, 2, 2)))
    expect(at(renewed, 1)).toMatchObject({ complete: true, fastener: 2, fault: null })
  })

  test.each([
    ['the old fastener', [{ position: 1, stage: 1, fastener: 1, event: 'replaced' }]],
    ['the new fastener', [{ position: 1, stage: 1, fastener: 2, event: 'replaced' }]],
    [
      'the old and then the new one',
      [
        { position: 1, stage: 1, fastener: 1, event: 'replaced' },
        { position: 1, stage: 1, fastener: 2, event: 'replaced' },
      ],
    ],
  ] as [string, Said[]][])('takes an event that names %s for one replacement', (_, events) => {
    const replaced = stages(pair, records(...pass(1, 2), ...events))
    expect(at(replaced, 1)).toMatchObject({
      complete: false,
      fastener: 2,
      needs: 'tighten',
      next_stage: 1,
      redo: false,
    })
    const late = stages(
      pair,
      records(...pass(1, 2), ...events, { position: 1, stage: 2, fastener: 1, verdict: 'outside' }),
    )
    expect(at(late, 1)).toMatchObject({ fastener: 2, redo: false })
    expect(at(stages(pair, records(...events, ...pass(1, 2, 2))), 1).complete).toBe(true)
  })

  it('takes a second event, after the new fastener was tightened, for a second replacement', () => {
    const replaced: Said = { position: 1, stage: 1, fastener: 2, event: 'replaced' }
    const twice = stages(pair, records(replaced, ...pass(1, 2, 2), replaced))
    expect(at(twice, 1)).toMatchObject({ complete: false, fastener: 3, next_stage: 1 })
  })

  it('redo_joint: every fastener has all stages again', () => {
    const procedure: JointProcedure = { ...pair, on_failure: 'redo_joint' }
    const bad: Said[] = [...pass(1, 2), { position: 2, stage: 1 }, { position: 2, stage: 2, verdict: 'outside' }]
    const state = stages(procedure, records(...bad))
    expect(state.fasteners.map(one => [one.needs, one.redo, one.fault?.kind])).toEqual([
      ['restart', true, 'joint_redone'],
      ['restart', true, 'outside'],
    ])
    expect(state.next).toEqual({ action: 'restart', position: 1, fastener: 1, stage: 1 })
    expect(stages(procedure, records(...bad, ...pass(2, 2))).complete).toBe(false)
    const again: Said[] = [1, 2].flatMap(stage => [1, 2].map(position => ({ position, stage })))
    expect(stages(procedure, records(...bad, ...again)).complete).toBe(true)
    // The redone joint goes stage by stage too.
    expect(stages(procedure, records(...bad, { position: 1, stage: 1 })).next).toMatchObject({ position: 2, stage: 1 })
  })

  it('leaves alone what has not been touched when the joint is redone', () => {
    const procedure: JointProcedure = { ...pair, on_failure: 'redo_joint' }
    const state = stages(procedure, records({ position: 1, stage: 1, event: 'slipped' }))
    expect(at(state, 2)).toMatchObject({ redo: false, needs: 'tighten' })
  })

  it('replaces a broken fastener whatever the rule', () => {
    const broken: Said[] = [...pass(2, 2), { position: 1, stage: 1, event: 'broke' }]
    for (const on_failure of ['restart', 'replace', 'redo_joint', null] as const) {
      const state = stages({ ...pair, on_failure }, records(...broken, ...pass(1, 2)))
      expect(at(state, 1)).toMatchObject({ complete: false, needs: 'replace' })
      expect(at(state, 2).complete).toBe(on_failure !== 'redo_joint')
    }
  })

  it('without a rule replaces at an angle stage and single-use fasteners, and does again what is unsure', () => {
    const open: JointProcedure = { ...pair, on_failure: null }
    const needs = (procedure: JointProcedure, ...said: Said[]) => at(stages(procedure, records(...said)), 1).needs
    expect(needs(open, { position: 1, stage: 1, verdict: 'outside' })).toBe('restart')
    expect(needs({ ...open, reuse: 'never' }, { position: 1, stage: 1, verdict: 'outside' })).toBe('replace')
    expect(needs(open, { position: 1, stage: 1 }, { position: 1, stage: 2, verdict: 'outside' })).toBe('replace')
    expect(needs(open, { position: 1, stage: 1 }, { position: 1, stage: 2, verdict: 'unsure' })).toBe('restart')
    expect(needs({ ...open, on_failure: 'replace' }, { position: 1, stage: 1, verdict: 'unsure' })).toBe('replace')
  })

  it('keeps apart what is unsure from what is to be redone', () => {
    const state = stages(
      pair,
      records({ position: 1, stage: 1, verdict: 'unsure' }, { position: 2, stage: 1, verdict: 'outside' }),
    )
    expect(state.fasteners.map(one => [one.unsure, one.redo])).toEqual([
      [true, false],
      [false, true],
    ])
    expect(state.incomplete.map(one => one.reason)).toEqual(['unsure', 'redo'])
  })

  it('counts a setting as done only where the wrench can prove the tolerance', () => {
    const set = (uncertainty: number | null) =>
      at(stages({ ...pair, stages: [torque] }, records({ position: 1, stage: 1, verdict: 'as_set', uncertainty })), 1)
    expect(set(2)).toMatchObject({ complete: true, unsure: false })
    expect(set(2.1)).toMatchObject({ complete: false, unsure: true })
    expect(set(null).fault).toMatchObject({ kind: 'not_proven' })
  })
})
