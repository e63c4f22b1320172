import { beforeEach, describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let joint: string
let tobin: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  tobin = t.cookie('technician', 'Tobin Rask')
  joint = `/bench/joints/${jointWith(t, w, { count: 2 })}`
})

const records = () =>
  t.deps.store.raw.prepare('select value, verdict from torque_records order by id').all() as {
    value: number
    verdict: string
  }[]

describe('a number that the wrench in hand cannot show', () => {
  test('is asked about once, with what was typed kept; said to have stood there, it is kept and does not conform', async () => {
    // W-11 goes from 5 to 50 N·m
    const { reply, fields } = await fillIn(t, tobin, joint, { value: '250' })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('W-11 goes from 5 to 50 N·m and cannot show 250 N·m.')
    expect(reply.body).toContain('value="250"')
    expect(reply.body).toContain('name="beyond_wrench"')
    expect(records()).toEqual([])
    const again = await t.app.inject({
      ...{
        method: 'POST',
        url: joint,
        headers: { cookie: tobin, 'content-type': 'application/x-www-form-urlencoded' },
      },
      payload: new URLSearchParams([
        ...fields.filter(([name]) => name !== '_key'),
        ['_key', 'said-again'],
        ['beyond_wrench', 'true'],
      ]).toString(),
    })
    expect(again.statusCode).toBe(303)
    expect(records()).toEqual([{ value: 250, verdict: 'outside' }])
  })

  test('is asked about in its own unit, below the range too, and when a record is put right', async () => {
    const below = await fillIn(t, tobin, joint, { value: '2.5' })
    expect(below.reply.body).toContain('cannot show 2.5 N·m')
    expect(await page(t, joint, tobin)).not.toContain('name="beyond_wrench"')
    await fillIn(t, tobin, joint, { value: '25' })
    expect(records()).toMatchObject([{ value: 25 }])
    const html = await page(t, joint, tobin)
    const record = /\/bench\/joints\/[^"]+\/records\/[^"#]+/.exec(html)![0]
    const put = await fillIn(t, tobin, record, { value: '52', reason: 'Misread' })
    expect(put.reply.statusCode).toBe(422)
    expect(put.reply.body).toContain('cannot show 52 N·m')
    expect(put.reply.body).toContain('name="beyond_wrench"')
  })
})
