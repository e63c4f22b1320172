import { beforeEach, describe, expect, test } from 'vitest'
import { openStep } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { day, review, twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')

/** The two months, and on 20 April a wheel that is opened again at our cost: 0.3 h at 40.00 is 12.00. */
async function withLoss() {
  const story = twoMonths(t, w)
  const { decision } = await story.goOn()
  t.clock.set(day(4, 20))
  const job = w.add('boot', w.openOrder())
  w.open(job, w.wheel)
  w.close(job, w.wheel)
  openStep(w.technician, job.id, w.wheel, { reason: 'Clip left off', borne_by: 'us' })
  t.clock.set(day(5, 1))
  return decision.id as string
}

describe('the causes of a month', () => {
  test('are those of its stays, beside the twelve months to its end; what was done twice counts beside them', async () => {
    await withLoss()
    expect((await review(t, '2031-03')).figures.causes).toEqual([
      { category: 'part', in_month: 1, in_year: 1, losses_in_month: 0, losses_in_year: 0 },
    ])
    const april = (await review(t, '2031-04')).figures
    expect(april.causes).toEqual([
      { category: '', in_month: 0, in_year: 0, losses_in_month: 1, losses_in_year: 1 },
      { category: 'part', in_month: 0, in_year: 1, losses_in_month: 0, losses_in_year: 0 },
    ])
    expect(april.losses).toEqual({ count: 1, hours: 0.3, cost_minor: 1200 })
    // before the owner had decided there was no cause; a year later it is out of the twelve months
    expect((await review(t, '2031-03', '?as_of=2031-03-31')).figures.causes).toHaveLength(1)
    t.clock.set(Date.UTC(2032, 4, 3, 8))
    expect((await review(t, '2032-04')).figures.causes).toEqual([])
  })

  test('stand on its page with their bars, the loss in words and its cost for whoever is shown money', async () => {
    await withLoss()
    const html = await page(t, '/months/2031-04', t.cookie('owner'))
    expect(read(html)).toContain('no cause named')
    expect(read(html)).toContain('0 + 1 twice')
    expect(read(html)).toContain('Done twice before the vehicle left: once, 0.3 h, €12.00 at our cost rate.')
    expect(read(await page(t, '/months/2031-04', t.cookie('technician')))).not.toContain('at our cost rate')
    expect(read(html)).toContain('Nothing was changed in these twelve months')
  })
})

test('a month tells what was changed so that a cause does not come back, as known then', async () => {
  const decision = await withLoss()
  t.clock.set(day(4, 30))
  await scenario(t, {
    ...{ as: 'owner', post: '/api/corrective-actions', expect: 201 },
    body: { decision_ids: [decision], what: 'Bulbs from another maker', done_on: '2031-04-10' },
  })
  t.clock.set(day(5, 2))
  expect((await review(t, '2031-03')).figures.actions).toEqual([])
  const [action] = (await review(t, '2031-04')).figures.actions
  expect(action).toMatchObject({
    what: 'Bulbs from another maker',
    done_on: '2031-04-10',
    sentence: expect.any(String),
  })
  expect((await review(t, '2031-04', '?as_of=2031-04-29')).figures.actions).toEqual([])
  expect(read(await page(t, '/months/2031-04', t.cookie('owner')))).toContain('10 Apr 2031 Bulbs from another maker')
})

test('beside what is foretold stands what was a month ago, as it was known then', async () => {
  await withLoss()
  const { a_month_ago } = (await review(t, '2031-04')).figures.warranty
  const { body } = await scenario(t, {
    as: 'desk',
    get: '/api/analysis/warranty-exposure?as_of=2031-03-31',
    expect: 200,
  })
  expect(a_month_ago).toEqual({
    as_of: '2031-03-31',
    jobs: body.jobs,
    expected_claims: body.expected_claims,
    expected_cost_minor: body.expected_cost_minor,
  })
  expect(read(await page(t, '/months/2031-04', t.cookie('owner')))).toMatch(/On 31 March 2031 it was [\d.]+ claims, €/)
})
