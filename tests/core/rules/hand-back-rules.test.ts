import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { taxPerRate } from '../../../src/core/money.ts'
import { inOneClause, type OrderFacts, stepBlockers, workBlockers } from '../../../src/hand-back/rules/blockers.ts'
import { afterBearing, moneyBlockers } from '../../../src/hand-back/rules/to-pay.ts'
import { closedOver, sharedSteps } from '../../../src/work-orders/rules/shared-steps.ts'
import { isJobDone, letterOf, stateOf } from '../../../src/work-orders/rules/standing.ts'
import { warrantyTerm } from '../../../src/work-orders/rules/warranty.ts'

const step = (access_step_id: string, needs: string[], is_open = false) => ({
  ...{ access_step_id, name: `${access_step_id} out`, needs, is_open, job_id: 'job' },
})
const FACTS: OrderFacts = {
  order_id: 'order',
  steps: [step('wheel', []), step('carrier', ['wheel']), step('shaft', ['carrier']), step('guard', ['wheel'])],
  tools: [],
  looks: [],
  joints: [],
  engine: [],
  untold: [],
  final_checks: [],
}
const sentences = (facts: OrderFacts, id: string) => stepBlockers(facts, id).map(blocker => blocker.sentence)

describe('stepBlockers', () => {
  test('lets a step go when nothing is behind it', () => {
    expect(stepBlockers(FACTS, 'wheel')).toEqual([])
  })

  test('finds what is behind a step that needs it through others, and nothing beside it', () => {
    const facts = {
      ...FACTS,
      tools: [
        { id: 't', job_id: 'job', tool: 'holding plate no. 3', count: 1, before_step_id: 'shaft', missing: null },
        { id: 'u', job_id: 'job', tool: 'Plug', count: 1, before_step_id: 'guard', missing: null },
        { id: 'v', job_id: 'job', tool: 'Drain tray', count: 1, before_step_id: null, missing: null },
      ],
      looks: [{ id: 'l', job_id: 'job', component: 'Brake hose', behind_step_id: 'carrier', done: false }],
      joints: [
        {
          id: 'j',
          name: 'Drive flange',
          behind_step_id: 'shaft',
          signed: false,
          temporary: false,
          sentence: '2 of 6 still to tighten',
        },
      ],
    }
    expect(sentences(facts, 'carrier')).toEqual([
      'Holding plate no. 3 is still in.',
      // nobody said where it lies: it comes out before any step is closed
      'Drain tray is still in.',
      'The look at the brake hose is not done.',
      'Drive flange is not signed: 2 of 6 still to tighten.',
    ])
    expect(sentences(facts, 'guard')).toEqual(['Plug is still in.', 'Drain tray is still in.'])
    expect(inOneClause(stepBlockers(facts, 'carrier'))).toBe(
      'holding plate no. 3 is still in; drain tray is still in; the look at the brake hose is not done; drive flange is not signed: 2 of 6 still to tighten',
    )
  })

  test('an inner step that is open keeps the outer one open, but not the other way round', () => {
    const facts = {
      ...FACTS,
      steps: [step('wheel', [], true), step('carrier', ['wheel'], true), step('shaft', ['carrier'])],
    }
    expect(sentences(facts, 'wheel')).toEqual(['"carrier out" is still open.'])
    expect(sentences(facts, 'carrier')).toEqual([])
  })

  test('ends where two plans of different days make steps need each other', () => {
    const facts = { ...FACTS, steps: [step('a', ['b'], true), step('b', ['a'], true)] }
    expect(sentences(facts, 'a')).toEqual(['"b out" is still open.'])
  })
})

test('workBlockers adds final checks that nobody did and that were not fine', () => {
  const check = (id: string, fine: boolean | null) => ({ id, job_id: 'job', text: `Check ${id}`, fine })
  const facts = { ...FACTS, final_checks: [check('1', true), check('2', false), check('3', null)] }
  expect(workBlockers(facts).map(blocker => blocker.reason)).toEqual(['check_failed', 'check_missing'])
})

test('workBlockers names small things by count, temporary fasteners, and an engine nobody turned by hand', () => {
  const joint = { id: 'j', name: 'Drive flange', behind_step_id: null, signed: false, sentence: 'all 2 are done' }
  const facts = {
    ...FACTS,
    tools: [{ id: 't', job_id: 'job', tool: 'Valve stem cap', count: 4, before_step_id: null, missing: null }],
    joints: [{ ...joint, temporary: true }],
    engine: [
      { job_id: 'job', letter: 'A', task: 'Cam belt: renew', turned_by_hand: false },
      { job_id: 'other', letter: 'B', task: 'Tensioner: replace', turned_by_hand: true },
    ],
  }
  expect(workBlockers(facts)).toEqual([
    { reason: 'tool_in', sentence: 'Valve stem cap: 4 are still in.', href: '/bench/jobs/job' },
    {
      reason: 'temporary_fasteners',
      sentence: 'Temporary fasteners, not for the road: drive flange.',
      href: '/bench/joints/j',
    },
    {
      reason: 'engine_not_turned',
      sentence: 'The engine was not turned by hand after job A, cam belt: renew.',
      href: '/bench/jobs/job',
    },
  ])
})

describe('moneyBlockers', () => {
  const facts = { order_id: 'order', total_minor: 16_000, agreed_minor: 15_000, has_yes: true, borne_minor: 0 }
  const reasons = (more: Partial<typeof facts>) => moneyBlockers({ ...facts, ...more }, String).map(each => each.reason)

  test('stops above the yes, unless we bear what is above it', () => {
    expect(reasons({})).toEqual(['above_agreed'])
    expect(reasons({ borne_minor: 999 })).toEqual(['above_agreed'])
    expect(reasons({ borne_minor: 1000 })).toEqual([])
    expect(reasons({ total_minor: 15_000 })).toEqual([])
  })

  test('asks for a yes when there is something to pay, and only then', () => {
    expect(reasons({ has_yes: false, agreed_minor: 0 })).toEqual(['no_yes'])
    expect(reasons({ has_yes: false, agreed_minor: 0, total_minor: 0 })).toEqual([])
    expect(reasons({ has_yes: false, agreed_minor: 0, borne_minor: 16_000 })).toEqual([])
  })
})

describe('afterBearing', () => {
  test('splits what we bear over two rates and works each net back', () => {
    const tax = [
      { tax_bp: 700, net_minor: 4668, tax_minor: 327 },
      { tax_bp: 2000, net_minor: 9333, tax_minor: 1867 },
    ]
    // 5000 · 4995/16195 = 1542.14…, 5000 · 11200/16195 = 3457.86…: 1542 and 3458 leave 3453 and 7742;
    // 3453/1.07 = 3227.10…, 7742/1.2 = 6451.67
    expect(afterBearing({ net_minor: 14_001, tax, gross_minor: 16_195 }, 5000)).toEqual({
      net_minor: 9679,
      tax: [
        { tax_bp: 700, net_minor: 3227, tax_minor: 226 },
        { tax_bp: 2000, net_minor: 6452, tax_minor: 1290 },
      ],
      gross_minor: 11_195,
    })
  })

  test('always adds up to the unit, is never below zero, and changes nothing when nothing is borne', () => {
    const rate = fc.record({
      net_minor: fc.integer({ min: 0, max: 1_000_000 }),
      tax_bp: fc.constantFrom(0, 700, 1900, 2000),
    })
    fc.assert(
      fc.property(fc.array(rate, { maxLength: 4 }), fc.double({ min: 0, max: 1, noNaN: true }), (lines, share) => {
        const tax = taxPerRate(lines)
        const net_minor = tax.reduce((sum, each) => sum + each.net_minor, 0)
        const gross_minor = tax.reduce((sum, each) => sum + each.net_minor + each.tax_minor, 0)
        const whole = { net_minor, tax, gross_minor }
        expect(afterBearing(whole, 0)).toEqual(whole)
        const borne = Math.floor(gross_minor * share)
        const left = afterBearing(whole, borne)
        expect(left.gross_minor).toBe(gross_minor - borne)
        expect(left.tax.reduce((sum, each) => sum + each.net_minor + each.tax_minor, 0)).toBe(left.gross_minor)
        expect(left.tax.every(each => each.net_minor >= 0 && each.tax_minor >= 0)).toBe(true)
      }),
    )
  })

  test('refuses to bear more than there is', () => {
    expect(() => afterBearing({ net_minor: 0, tax: [], gross_minor: 0 }, 1)).toThrow(RangeError)
  })
})

describe('the state of an order', () => {
  const facts = { handed_back: false, agreed: false, begun: false, has_jobs: true, all_done: false, blocked: false }

  test('goes from taken in to handed back as the facts come', () => {
    expect(stateOf(facts)).toBe('taken_in')
    expect(stateOf({ ...facts, agreed: true })).toBe('agreed')
    expect(stateOf({ ...facts, begun: true })).toBe('in_work')
    expect(stateOf({ ...facts, begun: true, all_done: true, blocked: true })).toBe('in_work')
    expect(stateOf({ ...facts, agreed: true, all_done: true })).toBe('ready')
    expect(stateOf({ ...facts, handed_back: true, blocked: true })).toBe('handed_back')
  })

  test('an order without any job is not ready', () => {
    expect(stateOf({ ...facts, has_jobs: false, all_done: true })).toBe('taken_in')
  })
})

describe('isJobDone', () => {
  const nothing = { steps: [], joints: [], looks: [], final_checks: [], turned_by_hand: null, completed: false }
  const opened = (is_open: boolean, times_opened = 1) => ({ ...nothing, steps: [{ is_open, times_opened }] })

  test('a job with points is done when all of them are', () => {
    expect(isJobDone({ ...nothing, joints: [true], looks: [true, false] })).toBe(false)
    expect(isJobDone({ ...nothing, joints: [true], looks: [true], final_checks: [true] })).toBe(true)
    expect(isJobDone({ ...nothing, joints: [false], completed: true })).toBe(false)
  })

  test('an engine to turn by hand is a point to prove', () => {
    expect(isJobDone({ ...nothing, turned_by_hand: false, completed: true })).toBe(false)
    expect(isJobDone({ ...nothing, turned_by_hand: true })).toBe(true)
    expect(isJobDone({ ...nothing, joints: [true], turned_by_hand: false })).toBe(false)
  })

  test('strip-down alone is done when it was opened and is closed, any other job when somebody says so', () => {
    expect(isJobDone(opened(true))).toBe(false)
    expect(isJobDone(opened(false, 0))).toBe(false)
    expect(isJobDone(opened(false))).toBe(true)
    expect(isJobDone(nothing)).toBe(false)
    expect(isJobDone({ ...nothing, completed: true })).toBe(true)
  })
})

test('letterOf goes on after Z', () => {
  expect([0, 1, 25, 26, 51, 52, 701, 702].map(letterOf)).toEqual(['A', 'B', 'Z', 'AA', 'AZ', 'BA', 'ZZ', 'AAA'])
})

test('warrantyTerm counts from the hand-back, in days and from its reading', () => {
  const job = { warranty_days: 365, warranty_km: 20_000.5 }
  expect(warrantyTerm(job, { on: '2031-03-03', odometer_km: 143_720.2 })).toEqual({
    until_on: '2032-03-02',
    until_km: 163_720.7,
  })
  expect(warrantyTerm(job, { on: '2031-03-03', odometer_km: null })).toEqual({ until_on: '2032-03-02' })
  expect(warrantyTerm({ warranty_days: null, warranty_km: null }, { on: '2031-03-03', odometer_km: 1 })).toEqual({})
})

test('sharedSteps counts openings of all jobs; closedOver finds the outer step that was closed', () => {
  const planned = (id: string, job_id: string, access_step_id: string, needs: string[]) => ({
    ...{ id, job_id, access_step_id, name: access_step_id, hours: 1, needs },
  })
  const plans = [
    planned('1', 'A', 'wheel', []),
    planned('2', 'A', 'carrier', ['wheel']),
    planned('3', 'B', 'wheel', []),
  ]
  const wheelAt = (at: number) => ({ access_step_id: 'wheel', at })
  const open = sharedSteps(plans, [wheelAt(1), wheelAt(5)], [wheelAt(3)])
  expect(open).toHaveLength(2)
  expect(open[0]).toMatchObject({ job_ids: ['A', 'B'], times_opened: 2, is_open: true, opened_at: 5, closed_at: 3 })
  expect(closedOver(open, open[1]!)).toBeUndefined()
  const closed = sharedSteps(plans, [wheelAt(1)], [wheelAt(3)])
  expect(closedOver(closed, closed[1]!)?.access_step_id).toBe('wheel')
})
