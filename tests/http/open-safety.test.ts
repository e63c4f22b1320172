import { beforeEach, describe, expect, test } from 'vitest'
import { createComponent } from '../../src/catalogue/index.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { addJob, voidJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  createComponent(w.owner, {
    ...{ name: 'Lamp holder', severity: 'safety', causes: [], check_minutes: 5, access_step_ids: [] },
    remedy_operation_id: w.operations.bulb,
  })
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const found = (more: object = {}) =>
  recordFinding(w.technician, {
    ...{ vehicle_id: w.vehicle, component: 'Brake hose', failure_mode: 'cracked', severity: 'safety' },
    ...{ found_on: '2031-03-03', advice: 'within_limits', limits: 'to the yard and back' },
    ...more,
  }).id
const flagged = async (order: string): Promise<string[]> => {
  const { body } = await scenario(t, { as: 'desk', get: `/api/work-orders/${order}`, expect: 200 })
  return body.flags
    .filter((flag: { reason: string }) => flag.reason === 'safety_finding')
    .map((flag: { sentence: string }) => flag.sentence)
}
const SAID =
  'On 3 March 2031 we found: brake hose: cracked. Within stated limits: to the yard and back. Nothing written down says that it was put right.'

describe('a finding on which safety hangs and that nobody put right', () => {
  test('is said when the vehicle comes again, on its page and on the next order, not on its own', async () => {
    found()
    expect(await flagged(w.order)).toEqual([])
    const form = read(await page(t, `/take-in?vehicle=${w.vehicle}`, t.cookie('desk')))
    expect(form).toContain(SAID)
    expect(read(await page(t, `/vehicles/${w.vehicle}`, t.cookie('desk')))).toContain(SAID)
    expect(await flagged(w.later(40, {}))).toEqual([`${SAID} Safety hangs on it: look at it first.`])
  })

  test('is not said once a job names it; a job that was voided puts nothing right', async () => {
    const id = found()
    const job = addJob(w.desk, w.order, { task: 'Hose renewed', hours: 1, settles_finding_id: id }).id
    expect(await flagged(w.later(40, {}))).toEqual([])
    voidJob(w.desk, job, { reason: 'Not wanted' })
    expect(await flagged(w.later(50, {}))).toHaveLength(1)
  })

  test('is put right by the remedy of its component on the same stay or since, not by one before', async () => {
    w.add('bulb')
    t.clock.set(Date.parse('2031-03-04T08:00:00Z'))
    found({ component: 'Lamp holder', found_on: '2031-03-04' })
    const later = w.later(40, {})
    expect(await flagged(later)).toHaveLength(1)
    addJob(w.desk, later, { operation_id: w.operations.bulb })
    expect(await flagged(w.later(50, {}))).toEqual([])
  })
})
