import { describe, expect, test } from 'vitest'
import { roughDay } from '../../../src/core/days.ts'
import type { CardFacts } from '../../../src/hand-back/rules/card-facts.ts'
import { engineBlockers } from '../../../src/hand-back/rules/engine.ts'
import { allDone, jobCard, nextItem, nextNeeded } from '../../../src/hand-back/rules/job-card.ts'
import { jobTrouble } from '../../../src/hand-back/rules/job-trouble.ts'
import { standingHandTurn } from '../../../src/work-orders/rules/engine.ts'
import { marksBefore } from '../../../src/work-orders/rules/marks.ts'
import type { SharedStep } from '../../../src/work-orders/rules/shared-steps.ts'
import { countFault } from '../../../src/work-orders/rules/tool-count.ts'

const step = (id: string, needs: string[], more: object = {}): CardFacts['steps'][number] => ({
  ...{ id: `step-${id}`, access_step_id: id, name: `${id} off`, needs, is_open: false, times_opened: 0 },
  ...{ opened_note: '', closed_note: '', closing_blockers: [], marks_first: [], unsaid: '' },
  ...more,
})
const OPEN = { is_open: true, times_opened: 1 }
const CLOSED = { is_open: false, times_opened: 1 }
const joint = (more: object = {}): CardFacts['joints'][number] => ({
  ...{ id: 'j', name: 'Cam cover', behind_step_id: 'cover', signed: false, needs_second_person: false },
  ...{ waits_for_second_person: false, tools_first: [], opened_over: false, sentence: '4 of 4 still to tighten' },
  ...more,
})
const mark = (id: string, text: string, more: object): CardFacts['marks'][number] => ({
  ...{ id, text, behind_step_id: null, before_step_id: null, joint_id: null, made: null },
  ...more,
})
const FACTS: CardFacts = {
  job_id: 'job',
  sound: { before: null, after: null, begun: false },
  marks: [
    mark('m1', 'Chain and wheel marked', { before_step_id: 'cover' }),
    mark('m2', 'Screws laid out by length', { joint_id: 'j' }),
    mark('m3', 'Photograph of the left side', {}),
  ],
  marks_before_work: [],
  work: null,
  steps: [
    step('tank', [], { marks_first: [{ text: 'Photograph of the left side', job_id: 'other' }] }),
    step('cover', ['tank'], { marks_first: [{ text: 'Chain and wheel marked', job_id: 'job' }] }),
  ],
  looks: [{ id: 'l', component: 'Chain guide', behind_step_id: 'cover', result: null }],
  tools_to_come: [{ id: 't', tool: 'Locking pin', count: 1, for_step_id: 'cover', not_used: null }],
  joints: [joint()],
  tools: [],
  engine: { by_hand: null, started: null, blockers: [], start_blockers: [] },
  final_checks: [{ id: 'c', text: 'No oil after ten minutes', result: null, fine: false }],
}
const kinds = (facts: CardFacts) => jobCard(facts).map(each => `${each.kind} ${each.id}`)
const waits = (facts: CardFacts, kind: string) => jobCard(facts).find(each => each.kind === kind)!.waits_for

describe('the walk of a job', () => {
  test('goes from its sound and marks to its last check and its sound again', () => {
    expect(kinds(FACTS)).toEqual([
      ...['sound_before job', 'mark m3', 'open step-tank', 'mark m1', 'mark m2', 'open step-cover', 'look l'],
      ...['tool_in t', 'joint j', 'close step-cover', 'close step-tank', 'turn_by_hand job', 'start job'],
      ...['final_check c', 'sound_after job'],
    ])
  })

  test('offers its sound first, and what the work needs beside it', () => {
    const items = jobCard(FACTS)
    expect(nextItem(items)!.kind).toBe('sound_before')
    expect(nextNeeded(items)!.id).toBe('m3')
    const begun = jobCard({ ...FACTS, sound: { before: null, after: null, begun: true } })
    expect(begun[0]).toMatchObject({ missed: true, done: false, note: 'missing: the work has begun without it' })
    expect(nextItem(begun)!.id).toBe('m3')
  })

  test('says which mark comes before which step, and holds a step up by nothing but that', () => {
    expect(waits(FACTS, 'open')).toBe('first: Photograph of the left side')
    // it is on the card of another job, to which the card leads
    expect(jobCard(FACTS).find(each => each.id === 'step-tank')!.blockers).toMatchObject([
      { href: '/bench/jobs/other' },
    ])
    const items = jobCard({ ...FACTS, steps: [step('tank', [], OPEN), step('cover', ['tank'])] })
    expect(items.find(each => each.id === 'm2')!.note).toBe('if you cannot see it yet, open "cover off" first')
    expect(items.find(each => each.id === 'step-cover')!.waits_for).toBe('')
  })

  test('looks, tools and joints are not offered before their step is open', () => {
    for (const kind of ['look', 'tool_in', 'joint']) expect(waits(FACTS, kind)).toContain('"cover off" must be open')
    const open = {
      ...FACTS,
      marks: [],
      steps: [step('tank', [], OPEN), step('cover', ['tank'], OPEN)],
    }
    for (const kind of ['look', 'tool_in', 'joint']) expect(waits(open, kind)).toBe('')
    expect(waits({ ...open, marks: FACTS.marks }, 'joint')).toBe('first: Screws laid out by length')
  })

  test('a planned tool whose step is closed again was not put in, and nothing waits for it', () => {
    const closed = { ...FACTS, steps: [step('tank', [], CLOSED), step('cover', ['tank'], CLOSED)] }
    const tool = jobCard(closed).find(each => each.kind === 'tool_in')!
    expect(tool).toMatchObject({ missed: true, waits_for: '', note: 'was not put in' })
  })

  test('tools that are in come out, by count', () => {
    const facts = {
      ...FACTS,
      tools: [{ id: 'in', tool: 'Plug', count: 4, removed: false, in_note: '9:00', out_note: 'in since 9:00' }],
    }
    expect(jobCard(facts).filter(each => each.id === 'in')).toMatchObject([
      { kind: 'tool_in', title: 'Plug, 4 of them, in', done: true },
      { kind: 'tool', title: 'Plug, 4 of them, out', done: false, waits_for: '' },
    ])
  })

  test('the second person is asked once the first has signed, and is told what to look at', () => {
    const safety = (more: object) => ({ ...FACTS, joints: [joint({ needs_second_person: true, ...more })] })
    expect(waits(safety({}), 'second_person')).toBe('whoever tightened it signs first')
    const items = jobCard(safety({ waits_for_second_person: true }))
    const second = items.find(each => each.kind === 'second_person')!
    expect(second).toMatchObject({ waits_for: '', done: false })
    expect(second.note).toMatch(/looks at the marks, counts the fasteners and sees a stripe on each; turns nothing/)
    expect(items.find(each => each.kind === 'joint')!.done).toBe(true)
  })

  test('a joint that would close a tool in waits for the tool, and so does its second person', () => {
    const facts = (more: object) => ({ ...FACTS, joints: [joint({ behind_step_id: null, ...more })] })
    expect(waits(facts({ tools_first: ['Locking pin', 'Plug'] }), 'joint')).toBe(
      'first: Screws laid out by length; first out: locking pin; first out: plug',
    )
    const second = { needs_second_person: true, waits_for_second_person: true, tools_first: ['Plug'] }
    expect(waits(facts(second), 'second_person')).toBe('first out: plug')
  })

  test('a signed joint over which its step was opened again is to be looked at', () => {
    const items = jobCard({
      ...FACTS,
      joints: [joint({ signed: true, opened_over: true, sentence: 'all 4 are done' })],
    })
    expect(items.find(each => each.kind === 'joint')!.note).toBe(
      'all 4 are done; opened again over it: look whether it was disturbed',
    )
  })

  test('the engine is turned by hand after joints are signed, then started; checks wait for the hand', () => {
    const closed = { ...FACTS, steps: [step('tank', [], CLOSED), step('cover', ['tank'], CLOSED)] }
    expect(waits(closed, 'turn_by_hand')).toBe('every joint must be signed first')
    const sound = { before: null, after: null, begun: true }
    const signed = { ...closed, sound, joints: [joint({ signed: true })], looks: [], marks: [] }
    expect(waits(signed, 'turn_by_hand')).toBe('')
    expect(waits(signed, 'start')).toBe('turn it by hand first')
    expect(waits(signed, 'final_check')).toBe('the engine must be turned by hand first')
    const turned = { ...signed, engine: { by_hand: '14:00', started: null, blockers: [], start_blockers: [] } }
    expect(nextItem(jobCard(turned))!.kind).toBe('start')
    expect(nextNeeded(jobCard(turned))!.kind).toBe('final_check')
    const blocked = { ...signed, engine: { ...FACTS.engine!, blockers: [toolIn('Pin')] } }
    expect(waits(blocked, 'turn_by_hand')).toBe('pin is still in')
    const checked = { ...turned, final_checks: [{ ...FACTS.final_checks[0]!, fine: true }] }
    expect(allDone(jobCard(turned))).toBe(false)
    expect(allDone(jobCard(checked))).toBe(true)
    expect(waits(checked, 'sound_after')).toBe('the engine must run first')
  })
})

const toolIn = (tool: string) => ({ reason: 'tool_in' as const, sentence: `${tool} is still in.`, href: '/x' })

describe('engineBlockers', () => {
  const loose = (more: object) => ({
    ...{ id: 'j', name: 'Cam cover', behind_step_id: null, sentence: '2 of 4 still to tighten' },
    ...{ signed: false, temporary: false, begun: false },
    ...more,
  })
  const facts = { tools: [], joints: [loose({})], open_steps: [], turned_by_hand: false, job_id: 'job' }
  const reasons = (more: object, how: 'by_hand' | 'started') =>
    engineBlockers({ ...facts, ...more }, how).map(blocker => blocker.reason)

  test('by hand: no tool inside, no begun joint unsigned, no temporary fasteners', () => {
    expect(reasons({}, 'by_hand')).toEqual([])
    expect(
      reasons(
        { tools: [{ id: 't', job_id: 'b', tool: 'Pin', count: 1, before_step_id: null, missing: null }] },
        'by_hand',
      ),
    ).toEqual(['tool_in'])
    expect(reasons({ joints: [loose({ begun: true })] }, 'by_hand')).toEqual(['joint_unsigned'])
    expect(reasons({ joints: [loose({ temporary: true, signed: true })] }, 'by_hand')).toEqual(['temporary_fasteners'])
    expect(reasons({ joints: [loose({ begun: true, signed: true })] }, 'by_hand')).toEqual([])
  })

  test('started: by hand first', () => {
    expect(reasons({}, 'started')).toEqual(['engine_not_turned'])
    expect(reasons({ turned_by_hand: true }, 'started')).toEqual([])
  })

  test('started: with every step closed that its jobs opened; by hand while they are open', () => {
    const open = { turned_by_hand: true, open_steps: [{ name: 'Cam cover off', job_id: 'b' }] }
    expect(reasons(open, 'by_hand')).toEqual([])
    expect(engineBlockers({ ...facts, ...open }, 'started')).toEqual([
      { reason: 'step_open', sentence: '"Cam cover off" is still open.', href: '/bench/jobs/b' },
    ])
  })

  test('a turn by hand counts until a step is opened after it', () => {
    const turns = [
      { id: '2', how: 'by_hand' as const },
      { id: '3', how: 'started' as const },
    ]
    expect(standingHandTurn(turns, [{ id: '1' }])?.id).toBe('2')
    expect(standingHandTurn(turns, [{ id: '1' }, { id: '4' }])).toBeUndefined()
    expect(standingHandTurn([turns[1]!], [])).toBeUndefined()
  })
})

describe('marksBefore', () => {
  const shared = (id: string, needs: string[], job_ids = ['A']): SharedStep => ({
    ...{ access_step_id: id, name: id, hours: 1, needs, job_ids, job_step_ids: [], times_opened: 0, is_open: false },
    ...{ opened_at: null, closed_at: null },
  })
  const steps = [shared('wheel', [], ['A', 'B']), shared('guard', ['wheel']), shared('arm', ['guard'])]
  const mark = (id: string, more: object) => ({
    id,
    job_id: 'A',
    text: id,
    behind_step_id: null,
    before_step_id: null,
    joint_id: null,
    ...more,
  })
  const joints = [{ id: 'j', behind_step_id: 'guard' }]
  const firstFor = (marks: ReturnType<typeof mark>[], at: number) =>
    marksBefore(marks, joints, steps, steps[at]!).map(each => each.id)

  test('its own step, any step of its job, or what lies deeper than its joint', () => {
    const marks = [mark('own', { before_step_id: 'guard' }), mark('first', {}), mark('joint', { joint_id: 'j' })]
    expect(firstFor(marks, 0)).toEqual(['first'])
    expect(firstFor(marks, 1)).toEqual(['own', 'first'])
    expect(firstFor(marks, 2)).toEqual(['first', 'joint'])
    expect(firstFor([mark('of B', { job_id: 'B' })], 0)).toEqual(['of B'])
    expect(firstFor([mark('of B', { job_id: 'B' })], 1)).toEqual([])
  })
})

test.each([
  [4, 4, null],
  [4, 3, '4 went in, 3 came out: find the fourth.'],
  [2, 0, '2 went in, 0 came out: find the other two.'],
  [3, 5, '3 went in, 5 came out: count again.'],
  [14, 13, '14 went in, 13 came out: find the last one.'],
])('%i in, %i out', (wentIn, cameOut, said) => {
  expect(countFault(wentIn, cameOut)).toBe(said)
})

test('jobTrouble names what to deal with and who is wanted', () => {
  const calm = {
    ...{ sentence: 'x', trouble: false, left: null, temporary: false },
    ...{ waits_for_second_person: false, in_doubt: false },
  }
  const joints = [
    { ...calm, name: 'Flange', sentence: '1 to do again', trouble: true },
    { ...calm, name: 'Arm', waits_for_second_person: true },
    { ...calm, name: 'Cover' },
    { ...calm, name: 'Hub', sentence: 'all 6 are done and signed', in_doubt: true },
  ]
  expect(jobTrouble(joints)).toEqual({
    trouble: ['Flange: 1 to do again', 'Hub: in doubt; all 6 are done and signed'],
    second_person_wanted: ['Arm'],
  })
})

test('roughDay never says more than is known', () => {
  expect(roughDay('2031-06-15', 'month')).toBe('about June 2031')
  expect(roughDay('2031-07-01', 'year')).toBe('about 2031')
  expect(roughDay('2031-06-15', 'day')).toBe('15 June 2031')
  expect(roughDay(undefined, 'unknown')).toBe('undated')
})
