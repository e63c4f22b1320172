import { beforeEach, describe, expect, test } from 'vitest'
import { recordFinding } from '../../src/findings/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { authoriseAmount, completeJob, talksOfOrder } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let job: string
const SAID = { with: 'Bodil Farrow', how: 'By telephone', said: 'Refused to sign; will have it towed.' }

/** A stay with one job done and paid for, so that only what was found can keep the vehicle. */
beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  job = w.add('bulb').id
  completeJob(w.technician, job, {})
  authoriseAmount(w.desk, w.order, {
    ...{ amount_minor: 90_000, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' },
  })
})

const found = (more: object = {}) =>
  recordFinding(w.technician, {
    ...{ vehicle_id: w.vehicle, job_id: job, component: 'Brake hose', failure_mode: 'cracked', severity: 'safety' },
    ...{ found_on: '2031-03-03', advice: 'within_limits', limits: 'to the yard and back' },
    ...more,
  }).id

const tell = (body: object, expected: number, more: object = {}) =>
  scenario(t, {
    ...{ as: 'desk', post: `/api/work-orders/${w.order}/advice-tellings`, body, expect: expected },
    ...more,
  })
const handBack = (expected: number) =>
  scenario(t, { as: 'desk', post: `/api/work-orders/${w.order}/hand-back`, body: {}, expect: expected })

describe('a finding on which safety hangs', () => {
  test('keeps the vehicle until somebody has written down who was told; "refused to sign" is an answer', async () => {
    const id = found()
    const { body } = await handBack(409)
    expect(body.blockers).toEqual([
      {
        reason: 'safety_not_told',
        sentence: 'Safety hangs on a finding, and nobody has told the customer: Brake hose: cracked.',
        href: `/work-orders/${w.order}/told`,
      },
    ])
    const { body: telling } = await tell({ finding_ids: [id], ...SAID }, 201)
    expect(telling).toMatchObject({ work_order_id: w.order, finding_ids: [id], ...SAID })
    expect(talksOfOrder(w.desk, w.order).map(talk => talk.said)).toEqual([SAID.said])
    const { body: all } = await scenario(t, {
      ...{ as: 'technician', get: `/api/work-orders/${w.order}/advice-tellings`, expect: 200 },
    })
    expect(all.items).toEqual([telling])
    await handBack(201)
  })

  test('of each one; what only saves trouble, and what was found in an earlier stay, keeps nobody', async () => {
    const [first, second] = [found(), found({ component: 'Tyre', job_id: undefined })]
    found({ component: 'Lamp', severity: 'nuisance', advice: undefined, limits: undefined })
    await tell({ finding_ids: [first, first], ...SAID }, 201)
    expect((await handBack(409)).body.blockers).toMatchObject([{ sentence: expect.stringContaining('Tyre: cracked') }])
    await tell({ finding_ids: [second], ...SAID }, 201)
    await handBack(201)
    const later = w.later(40, {})
    const { body } = await scenario(t, { as: 'desk', get: `/api/work-orders/${later}`, expect: 200 })
    expect(body.blockers.map((blocker: { reason: string }) => blocker.reason)).not.toContain('safety_not_told')
  })

  test('is told on a page that names it with the technician’s word, and keeps what was typed', async () => {
    found()
    const order = `/work-orders/${w.order}`
    const waits = await page(t, order, t.cookie('desk'))
    expect(waits).toContain('It waits for the desk: the customer is to be told what was found.')
    expect(waits).toContain(`class="button main-action" href="${order}/told">Write down who was told`)
    const told = `${order}/told`
    const html = await page(t, told, t.cookie('desk'))
    expect(html).toMatch(/checked> <span>Brake hose: cracked <small>Within stated limits: to the yard and back\.</)
    const { reply: refused } = await fillIn(t, t.cookie('desk'), told, { how: 'By telephone' })
    expect(refused.statusCode).toBe(422)
    expect(refused.body).toContain('value="By telephone"')
    const { reply: done } = await fillIn(t, t.cookie('desk'), told, SAID)
    expect(done.headers.location).toBe(`${order}#found`)
    const read = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
    const said =
      'Told Bodil Farrow, by telephone, 3 Mar 2031, 08:00: refused to sign; will have it towed. By desk person.'
    const after = await page(t, order, t.cookie('desk'))
    expect(read(after)).toContain(said)
    expect(after).not.toContain('Write down who was told')
    await handBack(201)
    expect(read(await page(t, `${order}/invoice`, t.cookie('desk')))).toContain(
      'Told Bodil Farrow, by telephone, 3 March 2031: refused to sign; will have it towed.',
    )
  })

  test('of another vehicle is refused where it stands, and by whom is not asked of a stranger', async () => {
    const other = createVehicle(w.desk, { family: 'Corvane Tern', odometer_unit: 'km' }).id
    const elsewhere = recordFinding(w.technician, {
      ...{ vehicle_id: other, component: 'Tyre', severity: 'safety', found_on: '2031-03-03' },
    }).id
    await tell({ finding_ids: [found(), elsewhere], ...SAID }, 422, { fields: ['/finding_ids/1'] })
    await tell({ finding_ids: [], ...SAID }, 422, { fields: ['/finding_ids'] })
    await scenario(t, {
      ...{ as: 'desk', post: '/api/work-orders/nobody/advice-tellings', expect: 404 },
      body: { finding_ids: [elsewhere], ...SAID },
    })
  })
})
