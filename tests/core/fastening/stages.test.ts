import { describe, expect, it } from 'vitest'
import type { JointProcedure } from '../../../src/core/fastening/fastener-progress.ts'
import { sequence } from '../../../src/core/fastening/sequence.ts'
import { stages } from '../../../src/core/fastening/stages.ts'
import { standingRecords } from '../../../src/core/fastening/standing-records.ts'
import { tolerance } from '../../../src/core/fastening/tolerance.ts'
import { verdict } from '../../../src/core/fastening/verdict.ts'
import { SEVERITIES } from '../../../src/core/vocabulary.ts'
import { publishedRow } from './published.ts'
import { at, flange, pair, pass, records, type Said, torque } from './torque-records.ts'

describe('stages', () => {
  it('starts with the first of the order at stage 1, and lists what is missing', () => {
    const state = stages(flange, [])
    expect(state.next).toEqual({ action: 'tighten', position: 1, fastener: 1, stage: 1 })
    expect(state.complete).toBe(false)
    expect(state.incomplete).toHaveLength(6)
    expect(state.incomplete[0]).toEqual({
      reason: 'stage_missing',
      position: 1,
      fastener: 1,
      stage: 1,
      record_id: null,
    })
  })

  it('goes stage by stage over the joint, in the tightening order', () => {
    const done: Said[] = []
    const walked: number[][] = []
    for (let next = stages(flange, []).next; next !== null; next = stages(flange, records(...done)).next) {
      walked.push([next.stage, next.position])
      done.push({ position: next.position, stage: next.stage })
    }
    expect(walked).toEqual([1, 2, 3].flatMap(stage => flange.order.map(position => [stage, position])))
    expect(stages(flange, records(...done))).toMatchObject({ complete: true, next: null, incomplete: [] })
  })

  it('names the record by which a stage counts', () => {
    const state = stages(pair, records(...pass(2, 2), { position: 1, stage: 1 }))
    expect(at(state, 2)).toMatchObject({ complete: true, needs: 'nothing', next_stage: null })
    expect(at(state, 2).stages).toEqual([
      { stage: 1, record_id: 'r1' },
      { stage: 2, record_id: 'r2' },
    ])
    expect(at(state, 1).stages[1]).toEqual({ stage: 2, record_id: null })
    expect(state.next).toEqual({ action: 'tighten', position: 1, fastener: 1, stage: 2 })
  })

  it('never counts an angle before its torque', () => {
    const early = stages(pair, records({ position: 1, stage: 2 }))
    expect(at(early, 1)).toMatchObject({ complete: false, redo: true, needs: 'restart' })
    expect(at(early, 1).fault).toEqual({ kind: 'out_of_turn', stage: 2, record_id: 'r1', rule: 'restart' })
    const late = stages(pair, records({ position: 1, stage: 2 }, { position: 1, stage: 1 }))
    expect(at(late, 1)).toMatchObject({ complete: false, redo: true, needs: 'tighten', next_stage: 2 })
    const whole = stages(pair, records({ position: 1, stage: 2 }, ...pass(1, 2)))
    expect(at(whole, 1)).toMatchObject({ complete: true, redo: false, fault: null })
  })

  it('never finishes by adding degrees: one stage of 90° is not two', () => {
    const twice = stages(pair, records(...pass(1, 2), { position: 1, stage: 2 }))
    expect(at(twice, 1)).toMatchObject({ complete: false, redo: true, needs: 'restart' })
    const unknown = stages(
      { ...pair, on_failure: null },
      records(
        { position: 1, stage: 1 },
        { position: 1, stage: 2, event: 'angle_not_known' },
        { position: 1, stage: 2 },
      ),
    )
    expect(at(unknown, 1)).toMatchObject({ complete: false, needs: 'replace' })
  })

  it('lets a torque be read once more, and a first stage begin a new pass', () => {
    const twoTorques: JointProcedure = { ...flange, stages: [torque, torque], order: [1] }
    const reread = stages(twoTorques, records(...pass(1, 2), { position: 1, stage: 2 }))
    expect(at(reread, 1).stages[1]).toEqual({ stage: 2, record_id: 'r3' })
    expect(reread.complete).toBe(true)
    const again = stages(twoTorques, records(...pass(1, 2), { position: 1, stage: 1 }))
    expect(at(again, 1)).toMatchObject({ complete: false, redo: false, needs: 'tighten', next_stage: 2 })
    const bad = stages(twoTorques, records(...pass(1, 2), { position: 1, stage: 2, verdict: 'outside' }))
    expect(at(bad, 1)).toMatchObject({ complete: false, redo: true, needs: 'restart' })
  })

  it('lets a correction stand in the place of what it corrects', () => {
    const wrong: Said[] = [
      { position: 1, stage: 1, verdict: 'outside' },
      { position: 1, stage: 2 },
    ]
    expect(stages({ ...pair, order: [1] }, records(...wrong)).complete).toBe(false)
    const corrected = records(...wrong, { position: 1, stage: 1, supersedes_id: 'r1' })
    expect(stages({ ...pair, order: [1] }, corrected).complete).toBe(true)
    expect(standingRecords(corrected).map(record => record.id)).toEqual(['r3', 'r2'])
    const twice = records(
      ...wrong,
      { position: 1, stage: 1, supersedes_id: 'r1' },
      { position: 1, stage: 1, verdict: 'outside', supersedes_id: 'r3' },
    )
    expect(standingRecords(twice).map(record => record.id)).toEqual(['r4', 'r2'])
    expect(stages({ ...pair, order: [1] }, twice).complete).toBe(false)
    expect(() => standingRecords(records({ position: 1, stage: 1, supersedes_id: 'x' }))).toThrow(
      'standingRecords requires x before r1',
    )
  })

  it('brings a failed fastener up by itself, once the others have had the stage it failed at', () => {
    const done: Said[] = [
      ...flange.order.map(position => ({ position, stage: 1 })),
      ...flange.order.map(position => ({ position, stage: 2 })),
    ]
    done.push({ position: 1, stage: 3 }, { position: 4, stage: 3 }, { position: 2, stage: 3, verdict: 'outside' })
    const walk: Array<[number, number]> = []
    for (
      let next = stages(flange, records(...done)).next;
      next !== null;
      next = stages(flange, records(...done)).next
    ) {
      walk.push([next.position, next.stage])
      done.push({ position: next.position, stage: next.stage })
    }
    expect(walk).toEqual([
      [5, 3],
      [3, 3],
      [6, 3],
      [2, 1],
      [2, 2],
      [2, 3],
    ])
  })

  it('warns when a fastener that is not free to be used again is tightened again', () => {
    const again = records({ position: 1, stage: 1, verdict: 'outside' }, { position: 1, stage: 1 })
    const caution = (reuse: JointProcedure['reuse']) => at(stages({ ...pair, reuse }, again), 1).caution
    expect(caution('never')).toBe('single_use_tightened_again')
    expect(caution('after_inspection')).toBe('inspect_before_use_again')
    expect(caution('free')).toBeNull()
    expect(at(stages({ ...pair, reuse: 'never' }, records(...pass(1, 2))), 1).caution).toBeNull()
  })

  it('runs a flange in the passes of ASME PCC-1, cross pattern, rising (seq.passes.pcc1)', () => {
    const passes = publishedRow<object, { pass: number | string; target_pct?: number[] }[]>(
      'passes',
      'seq.passes.pcc1',
    ).expected
    const torques = passes.flatMap(({ target_pct }) => (target_pct ? [(target_pct[0]! + target_pct[1]!) / 2] : []))
    expect(torques).toEqual([25, 60, 100, 100, 100])
    const procedure: JointProcedure = {
      ...flange,
      stages: torques.map(() => torque),
      order: sequence({ layout: 'circle', count: 8 }),
    }
    const done: Said[] = []
    for (let next = stages(procedure, []).next; next !== null; next = stages(procedure, records(...done)).next) {
      const limits = tolerance({ target: torques[next.stage - 1]! }, 500)
      const reading = verdict({ ...limits, value: torques[next.stage - 1]!, uncertainty: 1 })
      done.push({ position: next.position, stage: next.stage, verdict: reading.verdict })
    }
    expect(done.map(one => one.position)).toEqual(torques.flatMap(() => [1, 5, 3, 7, 2, 6, 4, 8]))
    expect(stages(procedure, records(...done)).complete).toBe(true)
  })

  it('has the three severities of VDI/VDE 2862, the gravest first (vdi2862)', () => {
    const row = publishedRow<object, Record<string, string>>('records', 'vdi2862').expected
    const words = { safety: 'life or limb', breakdown: 'breakdown', nuisance: 'annoys' }
    for (const [place, severity] of SEVERITIES.entries()) expect(row['ABC'.charAt(place)]).toContain(words[severity])
  })

  it('refuses records from outside the procedure', () => {
    expect(() => stages(pair, records({ position: 3, stage: 1 }))).toThrow('stages requires a position from 1 to 2')
    expect(() => stages(pair, records({ position: 1, stage: 3 }))).toThrow('stages requires a stage from 1 to 2')
    expect(() => stages(pair, records({ position: 1, stage: 1, verdict: null }))).toThrow('a verdict or an event')
    expect(() => stages({ ...pair, stages: [] }, [])).toThrow('stages requires at least one stage')
    expect(() => stages({ ...pair, order: [1, 1] }, [])).toThrow(
      'stages requires an order that names every position once',
    )
    expect(() => stages({ ...pair, order: [] }, [])).toThrow(RangeError)
  })
})
