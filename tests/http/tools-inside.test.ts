import { beforeEach, describe, expect, test } from 'vitest'
import { createOperation } from '../../src/catalogue/index.ts'
import { signOffJoint } from '../../src/fastening/index.ts'
import { addJob, type Job, putToolIn, takeToolOut } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario, sendForm } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let cookie: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  cookie = t.cookie('technician')
})

const closing = (job: Job, step: string, more: object = {}) =>
  scenario(t, { as: 'technician', post: `/api/jobs/${job.id}/steps/${step}/closings`, body: {}, expect: 201, ...more })

describe('a tool that names no step', () => {
  test('must be out before any step of the order is closed', async () => {
    const [boot, bearing] = [w.add('boot'), w.add('bearing')]
    w.open(bearing, w.wheel, w.carrier, w.shaft, w.hub)
    const { body: tray } = await scenario(t, {
      ...{ as: 'technician', post: `/api/jobs/${boot.id}/tools-in`, body: { tool: 'Drain tray' }, expect: 201 },
    })
    const { body } = await closing(bearing, w.hub, { expect: 409, problem: 'step-blocked' })
    expect(body.blockers).toMatchObject([{ reason: 'tool_in', sentence: 'Drain tray is still in.' }])
    await scenario(t, { as: 'technician', post: `/api/tools-in/${tray.id}/removal`, body: {}, expect: 201 })
    await closing(bearing, w.hub)
  })

  test('is what the form puts in unless somebody names a step, and it says so', async () => {
    const job = w.add('boot')
    w.open(job, w.wheel, w.carrier, w.shaft)
    const card = `/bench/jobs/${job.id}`
    const html = await page(t, card, cookie)
    expect(html).toMatch(
      /Must be out<\/label>\s*<select[^>]*><option value="">before any open step is closed<\/option>/,
    )
    expect(html).toContain('before &quot;Wheel off&quot; is closed</option>')
    await fillIn(t, cookie, card, { tool: 'Drain tray' })
    await fillIn(t, cookie, card, { tool: 'Chock', before_step_id: w.wheel })
    for (const url of [card, `/work-orders/${w.order}`, '/tools-out']) {
      const shown = await page(t, url, cookie)
      expect(shown, url).toContain('any open step is closed')
      expect(shown, url).toContain('&quot;Wheel off&quot; is closed')
    }
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
    const tray = t.deps.store.raw.prepare("select id from tools_in where tool = 'Drain tray'").pluck().get() as string
    takeToolOut(w.technician, tray, {})
    // the chock waits for the wheel alone
    await closing(job, w.shaft)
  })
})

describe('a joint and the tools that are in', () => {
  const sign = (joint: string, more: object = {}) =>
    scenario(t, {
      ...{ as: 'technician', post: `/api/joints/${joint}/sign-offs`, body: { as: 'technician' }, expect: 201 },
      ...more,
    })
  const tap = (joint: string, more: [string, string][] = []) =>
    sendForm(t, `/bench/joints/${joint}/sign-offs`, cookie, [
      ['as', 'technician'],
      ['_key', t.deps.ids.next()],
      ...more,
    ])
  /** A joint behind the carrier, the step over the shaft; and one behind no step. */
  function twoJoints(): Job {
    const operation_id = createOperation(w.owner, {
      ...{ name: 'Shaft and cover', hours: 1, access_step_ids: [w.shaft], looks: [], final_checks: [] },
      joints: [
        { name: 'Cover', procedure_id: w.procedure, behind_step_id: w.carrier },
        { name: 'Wheel nuts', procedure_id: w.procedure },
        { name: 'Shaft flange', procedure_id: w.procedure, behind_step_id: w.shaft },
      ],
    }).id
    const job = addJob(w.desk, w.order, { operation_id })
    w.open(job, w.wheel, w.carrier, w.shaft)
    return job
  }

  test('one that would close a tool in is tightened, and not signed until the tool is out', async () => {
    const job = twoJoints()
    const [cover, nuts] = job.joints.map(joint => joint.id) as [string, string]
    const pin = putToolIn(w.technician, job.id, { tool: 'locking pin', before_step_id: w.shaft })
    expect(await page(t, `/bench/joints/${cover}`, cookie)).toContain('Before it is signed:</strong> take out <a')
    for (const joint of [cover, nuts]) {
      for (const position of [1, 2]) w.tighten(joint, position)
      const { body } = await sign(joint, { expect: 409, problem: 'joint-incomplete' })
      expect(body.blockers).toEqual([
        {
          reason: 'tool_in',
          sentence: 'Locking pin is still in, to come out before "Axle shaft out" is closed: take it out first.',
          href: `/bench/jobs/${job.id}/tools/${pin.id}/out`,
        },
      ])
      expect(body.detail).toContain('cannot be signed: all 2 are done; locking pin is still in')
      expect((await scenario(t, { as: 'desk', get: `/api/joints/${joint}`, expect: 200 })).body.blockers).toEqual(
        body.blockers,
      )
    }
    const html = await page(t, `/bench/joints/${cover}`, cookie)
    expect(html).toContain('Cannot be signed yet')
    expect(html).toContain(`href="/bench/jobs/${job.id}/tools/${pin.id}/out"`)
    expect(html).not.toContain('>Sign off</button>')
    expect((await tap(cover)).statusCode).toBe(409)
    expect(await page(t, `/bench/jobs/${job.id}`, cookie)).toContain('cannot be done yet: first out: locking pin')
    takeToolOut(w.technician, pin.id, {})
    await sign(cover)
    await sign(nuts)
  })

  test('its second person, too, waits for a tool that went in since', async () => {
    const job = twoJoints()
    const [cover] = job.joints.map(joint => joint.id) as [string]
    t.deps.store.raw.prepare('drop trigger procedure_revisions_never_changed').run()
    t.deps.store.raw.prepare("update procedure_revisions set severity = 'safety'").run()
    for (const position of [1, 2]) w.tighten(cover, position)
    signOffJoint(w.technician, cover, { as: 'technician' })
    putToolIn(w.technician, job.id, { tool: 'Locking pin' })
    const second = { as: 'owner', body: { as: 'second_person' } }
    await sign(cover, { ...second, expect: 409, problem: 'joint-incomplete' })
    expect(await page(t, `/bench/jobs/${job.id}`, cookie)).toMatch(/Second person: Cover[\s\S]*first out: locking pin/)
  })

  test('one behind the very step may be what the tool holds: the page asks, and names the tool', async () => {
    const job = twoJoints()
    const flange = job.joints[2]!.id
    putToolIn(w.technician, job.id, { tool: 'holding plate', before_step_id: w.shaft })
    for (const position of [1, 2]) w.tighten(flange, position)
    const html = await page(t, `/bench/joints/${flange}`, cookie)
    expect(html).toContain('Still in</strong> Holding plate, to come out before &quot;Axle shaft out&quot; is closed.')
    const untold = await tap(flange)
    expect(untold.statusCode).toBe(422)
    expect(untold.body).toContain(
      'Still in the vehicle: holding plate is still in. Take out what this joint closes over, or say that it does not.',
    )
    expect((await tap(flange, [['not_over_tools', 'true']])).statusCode).toBe(303)
    await closing(job, w.shaft, { expect: 409, problem: 'step-blocked' })
  })
})
