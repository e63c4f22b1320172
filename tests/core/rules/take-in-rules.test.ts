import { describe, expect, test } from 'vitest'
import { distanceInWords } from '../../../src/core/words.ts'
import { type FlagFacts, flagsFrom, isRunning, termInWords } from '../../../src/take-in/rules/flags.ts'
import { arcsOf, type EventToTell, toldLife } from '../../../src/take-in/rules/life.ts'
import { stripDownTree } from '../../../src/take-in/rules/strip-down.ts'
import { dayAtKm, expectedKm, usageOf } from '../../../src/take-in/rules/usage.ts'
import { whenInWords } from '../../../src/take-in/rules/words.ts'

const NONE: FlagFacts = {
  ...{ on: '2031-11-04', odometer_km: 143_720, odometer_unit: 'km', vehicle_href: '/vehicles/v' },
  ...{
    suspicions: [],
    to_be: [],
    jobs: [],
    doubts: [],
    tools: [],
    safety_findings: [],
    left_for_later: [],
    others: [],
    odometer_oddities: [],
  },
}
const BELT = {
  ...{ id: 'belt', work_order_id: 'o', work_order_number: '2031-0188', task: 'Final drive belt: renew' },
  ...{ handed_back_on: '2031-09-24', warranty: { until_on: '2032-03-24', until_km: 160_300 } },
}
const only = (facts: Partial<FlagFacts>) => {
  const flags = flagsFrom({ ...NONE, ...facts })
  expect(flags).toHaveLength(1)
  return flags[0]!
}

describe('flagsFrom', () => {
  test('says nothing when the record says nothing', () => {
    expect(flagsFrom(NONE)).toEqual([])
  })

  test('ours, back: after what, how long after, and what is still promised, once', () => {
    const suspicion = {
      earlier_job_id: 'belt',
      sentence: 'Came in 41 days after “Final drive belt: renew” (work order 2031-0188).',
      reasons: ['That job disturbed the rear hub, which can cause: Hum.'],
      href: '/comebacks/belt/o2',
    }
    expect(only({ suspicions: [suspicion], jobs: [BELT] })).toEqual({
      reason: 'suspected_comeback',
      sentence:
        'Came in 41 days after “Final drive belt: renew” (work order 2031-0188); still under warranty to 24 March 2032 or 160\u00a0300\u00a0km, whichever comes first.',
      because: 'That job disturbed the rear hub, which can cause: Hum.',
      href: '/comebacks/belt/o2',
    })
    expect(only({ suspicions: [suspicion], jobs: [{ ...BELT, warranty: null }] }).sentence).toBe(suspicion.sentence)
  })

  test('warranty, with the day it began and how long ago', () => {
    expect(only({ jobs: [BELT] })).toEqual({
      reason: 'warranty_running',
      sentence:
        'Our work “Final drive belt: renew” (work order 2031-0188) is under warranty to 24 March 2032 or 160\u00a0300\u00a0km, whichever comes first.',
      because: 'Handed back on 24 September 2031, 41 days before.',
      href: '/work-orders/o',
    })
    expect(flagsFrom({ ...NONE, jobs: [BELT], odometer_km: 160_301 })).toEqual([])
  })

  test('a joint in doubt is to be looked at first where safety hangs on it', () => {
    const doubt = {
      sentence: 'A torque wrench that we tightened the drive flange with was later found outside its limits.',
      href: '/bench/joints/j',
    }
    expect(only({ doubts: [{ ...doubt, severity: 'safety' }] })).toMatchObject({
      reason: 'joint_in_doubt',
      because: expect.stringContaining('before anyone drives'),
      href: '/bench/joints/j',
    })
    expect(only({ doubts: [{ ...doubt, severity: 'nuisance' }] }).because).not.toContain('Safety')
  })

  test('tools, work left for later, odd readings', () => {
    const tool = { tool: 'Plug', work_order_id: 'o', work_order_number: '2031-0188' }
    expect(only({ tools: [tool] })).toMatchObject({
      reason: 'tool_still_in',
      sentence: expect.stringContaining('“Plug” was put in on work order 2031-0188'),
    })
    const left = { text: 'Hub seal: replace', on: '2031-01-18', amount: '€268.80', href: '/vehicles/v' }
    expect(only({ left_for_later: [left] })).toEqual({
      reason: 'left_for_later',
      sentence: 'Left for later on 18 January 2031: hub seal: replace.',
      because: 'Priced then at €268.80.',
      href: '/vehicles/v',
    })
    expect(only({ odometer_oddities: ['1 km is lower than 2 km.'] })).toMatchObject({
      reason: 'odometer',
      sentence: 'The odometer: 1 km is lower than 2 km.',
    })
  })

  test('others’ work only where it was at what can cause the symptom; all of it while there is none', () => {
    const work = {
      operation: 'Axle shaft boot: replace',
      by: 'other',
      on: '2029-02-15',
      exactness: 'month',
      evidence: 'Invoice seen',
    } as const
    expect(flagsFrom({ ...NONE, others: [{ ...work, may_cause: [] }] })).toEqual([])
    expect(only({ others: [{ ...work, may_cause: null }] })).toEqual({
      reason: 'others_work',
      sentence: '“Axle shaft boot: replace” was done by another workshop in February 2029.',
      because: 'Evidence: invoice seen.',
      href: '/vehicles/v',
    })
    const causes = [{ component: 'Rear hub', symptom: 'Hum' }]
    expect(only({ others: [{ ...work, may_cause: causes }] }).sentence).toBe(
      '“Axle shaft boot: replace” was done by another workshop in February 2029. That is work at the rear hub, which can cause: Hum.',
    )
  })
})

test('a warranty runs to its last day and its last km, and where nothing limits it there is none', () => {
  const at = (on: string, odometer_km: number | null) => isRunning(BELT.warranty, { on, odometer_km })
  expect([at('2032-03-24', 160_300), at('2032-03-25', 1), at('2032-03-24', 160_301), at('2032-03-24', null)]).toEqual([
    ...[true, false, false, true],
  ])
  expect([isRunning({}, NONE), isRunning(null, NONE)]).toEqual([false, false])
  expect(termInWords({ until_km: 160_934.4 }, 'mi')).toBe('to 100\u00a0000\u00a0mi')
  expect(termInWords({ until_on: '2032-03-24' }, 'km')).toBe('to 24 March 2032')
})

test('words for rough days and for distances', () => {
  expect(whenInWords('2029-07-01', 'year')).toBe('in 2029')
  expect(whenInWords('2029-02-12', 'day')).toBe('on 12 February 2029')
  expect(whenInWords(null, 'unknown')).toBe('at a time that nobody knows')
  expect([distanceInWords(0, 'km'), distanceInWords(1_234_567.4, 'km')]).toEqual([
    '0\u00a0km',
    '1\u00a0234\u00a0567\u00a0km',
  ])
})

describe('usageOf', () => {
  const at = (on: string, distance_km: number, display_replaced = false) => ({ on, distance_km, display_replaced })

  test('is the middle slope, which one mistyped reading does not move', () => {
    const readings = [at('2031-01-01', 1000), at('2031-01-11', 2000), at('2031-01-21', 3000), at('2031-01-31', 40_000)]
    const usage = usageOf(readings)!
    // slopes between pairs, by hand: 100, 100, 100, 1300, 1850, 3700; the middle lies between 100 and 1300
    expect(usage).toMatchObject({ km_per_day: 700, days_read: 4 })
    expect(usageOf(readings.slice(0, 3))).toMatchObject({ km_per_day: 100, days_read: 3 })
  })

  test('goes on over a replaced instrument', () => {
    const usage = usageOf([
      at('2031-01-01', 1000),
      at('2031-01-11', 2000),
      at('2031-01-11', 0, true),
      at('2031-01-21', 1000),
    ])!
    expect(usage.km_per_day).toBe(100)
    expect(usage.days_read).toBe(3)
    expect(expectedKm(usage, '2031-01-31')).toBe(2000)
    expect(dayAtKm(usage, 2000)).toBe('2031-01-31')
  })

  test('is unknown with one day, and for a vehicle that went backwards', () => {
    expect(usageOf([])).toBeNull()
    expect(usageOf([at('2031-01-01', 1000), at('2031-01-01', 1200)])).toBeNull()
    expect(usageOf([at('2031-01-01', 1000), at('2031-01-02', 900)])).toBeNull()
    expect(dayAtKm(usageOf([at('2031-01-01', 1000), at('2031-01-02', 1000)])!, 2000)).toBeNull()
  })
})

test('the strip-down tree hangs each job on the step that is reached last', () => {
  const step = (access_step_id: string, hours: number, needs: string[], job_ids: string[]) => ({
    ...{ access_step_id, name: access_step_id, hours, needs, job_ids },
  })
  const steps = [
    step('wheel', 0.3, [], ['a', 'b']),
    step('guard', 0.3, ['wheel'], ['a']),
    step('carrier', 0.4, ['wheel'], ['b']),
    step('hub', 1.1, ['guard', 'carrier'], ['b']),
  ]
  const jobs = [
    { id: 'a', letter: 'A', task: 'Belt', hours: 0.5 },
    { id: 'b', letter: 'B', task: 'Bearing', hours: 1 },
    { id: 'c', letter: 'C', task: 'Bulb', hours: 0.2 },
  ]
  const bars = stripDownTree(steps, jobs)
  expect(bars.map(bar => [bar.id, bar.after, bar.letters.join('')])).toEqual([
    ...[
      ['c', null, 'C'],
      ['wheel', null, 'AB'],
      ['guard', 'wheel', 'A'],
      ['a', 'guard', 'A'],
    ],
    ...[
      ['carrier', 'wheel', 'B'],
      ['hub', 'carrier', 'B'],
      ['b', 'hub', 'B'],
    ],
  ])
})

describe('the life of a vehicle', () => {
  const event = (record_id: string, more: Partial<EventToTell>): EventToTell => ({
    ...{ record_id, id: record_id, date: null, distance: null, event: 'work', by: 'us', operation: null },
    ...{ component: null, comeback_of: null, caused_by: null },
    ...more,
  })
  const life = [
    event('tow bar', { by: 'unknown', operation: 'Tow bar wiring' }),
    event('boot', { date: '2029-02-12', by: 'other', operation: 'Axle shaft boot: replace' }),
    event('read', { date: '2029-02-12', event: 'seen', distance: 44_900 }),
    event('belt', { date: '2031-09-24', distance: 140_300, operation: 'Final drive belt: renew' }),
    event('same', { date: '2031-09-24', event: 'seen', distance: 140_300 }),
    event('alone', { date: '2031-10-01', event: 'seen', distance: 141_000 }),
    event('seal', { date: '2031-10-02', event: 'failure', component: 'Hub seal' }),
    event('bearing', { date: '2031-11-04', event: 'failure', component: 'Rear wheel bearing', caused_by: 'belt' }),
  ]

  test('numbers what is dated, takes the distance read that day, and drops readings that say nothing more', () => {
    expect(toldLife(life).map(told => [told.event.record_id, told.number, told.distance])).toEqual([
      ['tow bar', null, null],
      ['boot', 1, 44_900],
      ['belt', 2, 140_300],
      ['alone', null, 141_000],
      ['seal', 3, null],
      ['bearing', 4, null],
    ])
  })

  test('a finding’s cause is a solid arc; what only the numbers suggest is dashed, from the latest such work', () => {
    const often = (operation: string, component: string) => operation.startsWith('Axle') && component === 'Hub seal'
    expect(arcsOf(toldLife(life), often)).toEqual([
      { from: 1, to: 3, is_confirmed: false },
      { from: 2, to: 4, is_confirmed: true },
    ])
    const imported = [
      event('first', { id: 'row 1', date: '2030-01-01' }),
      event('again', { date: '2030-02-01', comeback_of: 'row 1' }),
    ]
    expect(arcsOf(toldLife(imported), () => false)).toEqual([{ from: 1, to: 2, is_confirmed: true }])
  })

  test('a confirmed comeback is solid too, in place of a dashed one; a finding that says the same is not drawn twice', () => {
    const often = (operation: string, component: string) => operation.startsWith('Axle') && component === 'Hub seal'
    const href = '/comebacks/belt/stay'
    const cameBack = [
      { earlier: 'belt', later: 'seal', href },
      { earlier: 'belt', later: 'bearing', href },
      { earlier: 'boot', later: 'bearing', href },
      { earlier: 'bearing', later: 'belt', href },
    ]
    expect(arcsOf(toldLife(life), often, cameBack)).toEqual([
      { from: 2, to: 3, is_confirmed: true, decided_at: href },
      { from: 2, to: 4, is_confirmed: true },
      { from: 1, to: 4, is_confirmed: true, decided_at: href },
    ])
  })
})
