import { beforeEach, describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { scenario } from '../support/http.ts'
import { review, twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()

describe('POST /api/month-reviews/{YYYY-MM}', () => {
  let t: TestApp
  let w: ComebackWorld

  beforeEach(async () => {
    t = await app()
    w = comebackWorld(t)
  })

  const issue = (month: string, wanted: object = {}) =>
    scenario(t, { as: 'owner', post: `/api/month-reviews/${month}`, body: {}, expect: 201, ...wanted })

  test('keeps the figures of the month for ever, whatever becomes known since', async () => {
    const story = twoMonths(t, w)
    const { decision } = await story.goOn()
    const issued = (await issue('2031-03', { events: 1 })).body
    expect(issued).toMatchObject({ month: '2031-03', figures: { comebacks: { jobs_came_back: 1, cost_minor: 3800 } } })
    expect(issued.issued_at).toMatch(/^2031-/)
    const known = issued.as_known_on
    expect(known > '2031-03-31', 'as known on the day of issue').toBe(true)
    t.clock.set(t.clock.now() + 24 * 60 * 60 * 1000)
    await w.decide({ ...story.confirm, decision: 'ruled_out', supersedes: decision.id })
    expect(await review(t, '2031-03')).toEqual(issued)
    const today = new Date(t.clock.now()).toISOString().slice(0, 10)
    const anew = await review(t, '2031-03', `?as_of=${today}`)
    expect(anew.figures.comebacks).toMatchObject({ jobs_came_back: 0 })
    expect(anew.issued_at).toBeUndefined()
  })

  test('once, after the month is over, by the owner', async () => {
    await twoMonths(t, w).goOn()
    await issue('2031-03')
    await issue('2031-03', { expect: 409, problem: 'month-issued', events: 0 })
    const running = new Date(t.clock.now()).toISOString().slice(0, 7)
    await issue(running, { expect: 409, problem: 'month-runs', events: 0 })
    await issue('2099-01', { expect: 422, fields: ['/month'], events: 0 })
    await issue('2031-02', { as: 'desk', expect: 403, events: 0 })
    expect((await issue('2031-02')).body.figures).toMatchObject({ jobs: 0, comebacks: { jobs_came_back: 0 } })
  })
})
