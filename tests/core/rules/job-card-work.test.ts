import { describe, expect, test } from 'vitest'
import { type PointFacts, stepBlockersBesideInner } from '../../../src/hand-back/rules/blockers.ts'
import type { CardFacts } from '../../../src/hand-back/rules/card-facts.ts'
import { jobCard, nextItem, nextNeeded } from '../../../src/hand-back/rules/job-card.ts'
import { missingWords } from '../../../src/work-orders/rules/tool-count.ts'

const OPEN = { is_open: true, times_opened: 1 }
const CLOSED = { is_open: false, times_opened: 1 }
const step = (id: string, needs: string[], more: object = {}): CardFacts['steps'][number] => ({
  ...{ id: `step-${id}`, access_step_id: id, name: `${id} off`, needs, is_open: false, times_opened: 0 },
  ...{ opened_note: '', closed_note: '', closing_blockers: [], marks_first: [], unsaid: '' },
  ...more,
})
/** A tensioner behind a cover: no joint, so nothing but somebody's word says that the work is done. */
const FACTS: CardFacts = {
  ...{ job_id: 'job', sound: null, marks: [], marks_before_work: [], tools_to_come: [], joints: [] },
  steps: [step('tank', [], OPEN), step('cover', ['tank'], OPEN)],
  looks: [{ id: 'l', component: 'Chain guide', behind_step_id: 'cover', result: null }],
  work: { done: null },
  tools: [{ id: 'in', tool: 'Locking pin', count: 1, removed: false, in_note: '9:00', out_note: 'in since 9:00' }],
  engine: { by_hand: null, started: null, blockers: [], start_blockers: [] },
  final_checks: [{ id: 'c', text: 'Quiet from cold', result: null, fine: false }],
}
const kinds = (facts: CardFacts) => jobCard(facts).map(each => `${each.kind} ${each.id}`)
const one = (facts: CardFacts, kind: string) => jobCard(facts).find(each => each.kind === kind)!
const next = (facts: CardFacts) => nextItem(jobCard(facts))!.kind

describe('the work of a job without a joint', () => {
  test('comes after the looks, before any tool comes out and any step is closed', () => {
    expect(kinds(FACTS)).toEqual([
      ...['open step-tank', 'open step-cover', 'look l', 'tool_in in', 'work job', 'tool in', 'close step-cover'],
      ...['close step-tank', 'turn_by_hand job', 'start job', 'final_check c'],
    ])
    expect(next(FACTS)).toBe('look')
    const looked = { ...FACTS, looks: [{ ...FACTS.looks[0]!, result: 'fine' }] }
    expect(next(looked)).toBe('work')
    expect(next({ ...looked, work: { done: '10:00, Tobin Rask' } })).toBe('tool')
  })

  test('waits until the steps before it are open, and is done with a who and a when', () => {
    const shut = { ...FACTS, steps: [step('tank', [], OPEN), step('cover', ['tank'])] }
    expect(one(shut, 'work').waits_for).toBe('"cover off" must be open')
    expect(one({ ...FACTS, work: { done: '10:00, Tobin Rask' } }, 'work')).toMatchObject({
      ...{ title: 'The work itself is done', note: '10:00, Tobin Rask', done: true },
    })
  })

  test('is not asked of a job whose joints say it', () => {
    expect(kinds({ ...FACTS, work: null })).not.toContain('work job')
  })

  test('nobody turns the engine before, and a step may be closed over it, but is warned of', () => {
    const out = [{ ...FACTS.tools[0]!, removed: true }]
    const looked = { ...FACTS, looks: [], tools: out }
    expect(one(looked, 'turn_by_hand').waits_for).toBe('the work comes first')
    const unsaid = 'nobody has said that the work itself is done: job A, cam chain tensioner: replace'
    const steps = [step('tank', [], { ...OPEN, unsaid }), step('cover', ['tank'], { ...OPEN, unsaid })]
    expect(one({ ...looked, steps }, 'close')).toMatchObject({ waits_for: '', note: unsaid, done: false })
  })

  test('closed over before anybody said so, it is what comes next', () => {
    const closed = {
      ...FACTS,
      tools: [],
      looks: [],
      steps: [step('tank', [], CLOSED), step('cover', ['tank'], CLOSED)],
    }
    expect(nextNeeded(jobCard(closed))).toMatchObject({
      kind: 'work',
      note: 'closed again over it, and nobody has said so',
    })
  })
})

test('an outer step waits for the inner one, which says the rest', () => {
  const open = (access_step_id: string, needs: string[]) => ({
    ...{ access_step_id, name: `${access_step_id} off`, needs, is_open: true, job_id: 'job' },
  })
  const facts: PointFacts = {
    ...{ looks: [], joints: [], steps: [open('tank', []), open('cover', ['tank']), open('chain', ['cover'])] },
    tools: [
      { id: 't', job_id: 'job', tool: 'Pin', count: 1, before_step_id: 'cover', missing: null },
      { id: 'u', job_id: 'job', tool: 'Rag', count: 1, before_step_id: 'tank', missing: null },
    ],
  }
  const sentences = (id: string) => stepBlockersBesideInner(facts, id).map(blocker => blocker.sentence)
  expect(sentences('chain')).toEqual([])
  expect(sentences('cover')).toEqual(['Pin is still in.', '"chain off" is still open.'])
  expect(sentences('tank')).toEqual(['Rag is still in.', '"cover off" is still open.'])
})

test.each([
  [5, 4, 'in the sump', '4 of 5 out, one lost; where it may be: in the sump'],
  [5, 2, 'in the sump', '2 of 5 out, three lost; where they may be: in the sump'],
  [5, null, null, null],
])('of %i that went in %s came out', (count, out_count, may_be, said) => {
  expect(missingWords({ count, out_count, may_be })).toBe(said)
})
