import { beforeEach, describe, expect, test } from 'vitest'
import { type Job, startClock } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job
let other: Job
let tobin: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = w.add('bulb')
  other = w.add('boot')
  tobin = t.cookie('technician', 'Tobin Rask')
})

const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const clocks = async () =>
  (await scenario(t, { as: 'technician', get: `/api/jobs/${job.id}/clock-starts`, expect: 200 })).body.items
/** Started at eight in the morning of 3 March, by a tap on the card. */
const start = (which: Job) => fillIn(t, tobin, `/bench/jobs/${which.id}/clock-starts`, {}, `/bench/jobs/${which.id}`)

describe('a clock that ran over night', () => {
  test('is asked about on My jobs and on the card, and never stopped by a guess', async () => {
    await start(job)
    expect(await page(t, '/bench', tobin)).not.toContain('When did you stop?')
    t.clock.set(Date.parse('2031-03-04T07:00:00Z'))
    expect(read(await page(t, '/bench', tobin))).toContain(
      'Your clock on rear lamp bulb: replace has run since 3 Mar 2031, 08:00. When did you stop?',
    )
    const card = await page(t, `/bench/jobs/${job.id}`, tobin)
    expect(card).toContain('When did you stop?')
    expect(card).not.toContain('>Stop the clock')
    // another job is begun only once that is said
    const { reply } = await start(other)
    expect(reply.headers.location).toMatch(/^\/bench\/clocks\/.*\/stop$/)
    expect(await clocks()).toMatchObject([{ at: '2031-03-03T08:00:00.000Z' }])
    const form = String(reply.headers.location)
    const empty = await fillIn(t, tobin, form, { at: '' })
    expect(empty.reply.statusCode).toBe(422)
    const early = await fillIn(t, tobin, form, { at: '2031-03-03T07:00' })
    expect(early.reply.body).toContain('it cannot stop before')
    await fillIn(t, tobin, form, { at: '2031-03-03T16:20' })
    expect(await clocks()).toMatchObject([{ stopped_at: '2031-03-03T16:20:00.000Z' }])
    expect(await page(t, '/bench', tobin)).not.toContain('When did you stop?')
  })

  test('of somebody else is not asked of me', async () => {
    startClock(w.technician, job.id, {})
    t.clock.set(Date.parse('2031-03-04T07:00:00Z'))
    expect(await page(t, '/bench', tobin)).not.toContain('When did you stop?')
  })
})
