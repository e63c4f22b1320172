import { beforeEach, describe, expect, test } from 'vitest'
import { recordRecovery } from '../../src/comebacks/service/recoveries.ts'
import { createSupplier } from '../../src/parts/index.ts'
import { addJob, completeJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

const text = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')

describe('what a comeback cost', () => {
  // 0.2 h × 40.00 and a part of 30.00, all of it borne by us
  test('stands on its decision, its claim, in the list and on the order of the return', async () => {
    const story = twoMonths(t, w)
    const { decision } = await story.goOn()
    const owner = t.cookie('owner')
    const own = `/comebacks/${story.first}/${story.back}`
    const lines = '0.2 hours not billed, at the cost rate €8.00 Parts not billed, at what they cost us €30.00'
    expect(text(await page(t, own, owner))).toContain(lines)
    const claim = { decision_id: decision.id, amount_minor: 2500, deadline_on: '2031-05-20' } as const
    const supplier_id = createSupplier(w.desk, { name: 'Pennant Spares' }).id
    const { id } = recordRecovery(w.owner, { ...claim, supplier_id, state: 'claimed' })
    const order = `/work-orders/${story.back}`
    expect(text(await page(t, order, owner))).toMatch(
      /Came back after “Rear lamp bulb: replace” \( 2031-0001 \): confirmed\. We pay\..* €25\.00 claimed from Pennant Spares, to be settled by 20 May 2031\. The stay cost us €38\.00\./,
    )
    recordRecovery(w.owner, { ...claim, supplier_id, state: 'paid', supersedes: id, reason: 'Credit note 88.' })
    const left = 'It cost €38.00 Came back from suppliers €25.00 Left with us €13.00'
    for (const url of [own, `/comebacks/decided/${decision.id}/claim`])
      expect(text(await page(t, url, owner)), url).toContain(left)
    const words = 'The stay cost us €38.00; suppliers paid €25.00 of it: €13.00 is left.'
    for (const url of [order, '/comebacks']) {
      expect(text(await page(t, url, t.cookie('desk'))), url).toContain(words)
      expect(text(await page(t, url, t.cookie('technician'))), url).not.toContain('cost us')
    }
    expect(text(await page(t, order, t.cookie('technician')))).toContain('confirmed. We pay.')
  })
})

describe('a comeback that the customer pays nothing for', () => {
  const reasons = async (order: string) =>
    (await scenario(t, { as: 'desk', get: `/api/work-orders/${order}`, expect: 200 })).body.to_ask.map(
      (each: { reason: string }) => each.reason,
    )

  test.each([
    ['us', 'it was decided that we pay'],
    ['supplier', 'it was decided that the supplier pays'],
  ])('is asked about where the order asks for money: %s', async (borne_by, says) => {
    const earlier_job_id = w.finish(w.order)
    const back = w.later(20)
    expect(await reasons(back)).toEqual(['no_job'])
    await w.decide({ earlier_job_id, later_work_order_id: back, borne_by })
    expect(await reasons(back), 'nothing is to pay yet').toEqual(['no_job'])
    const job = addJob(w.desk, back, { operation_id: w.operations.bulb }).id
    completeJob(w.technician, job, {})
    expect(await reasons(back)).toEqual(['comeback_not_borne'])
    const desk = t.cookie('desk')
    for (const url of [`/work-orders/${back}`, `/work-orders/${back}/hand-back`])
      expect(text(await page(t, url, desk)), url).toContain(says)
    w.giveBack(back)
    // 0.2 h × 60.00 and 20 % tax
    expect(text(await page(t, `/work-orders/${back}`, desk)), 'and once it has left').toContain(
      'The invoice asked the customer for €14.40, and for the comeback the customer pays nothing.',
    )
  })

  test('is not where the customer pays it, or shares it', async () => {
    const earlier_job_id = w.finish(w.order)
    for (const borne_by of ['customer', 'shared']) {
      const back = w.later(5)
      await w.decide({ earlier_job_id, later_work_order_id: back, borne_by })
      w.finish(back)
      expect(await reasons(back)).toEqual([])
    }
    const asked = w.later(5)
    const job = addJob(w.desk, asked, { operation_id: w.operations.bulb }).id
    completeJob(w.technician, job, {})
    await w.decide({ earlier_job_id, later_work_order_id: asked, borne_by: 'customer' })
    expect(await reasons(asked)).toEqual([])
  })
})
