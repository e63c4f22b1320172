import { beforeEach, describe, expect, test } from 'vitest'
import { handBack } from '../../src/hand-back/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: ReturnType<OrderWorld['add']>
let joint: string
let tobin: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = w.add('bearing')
  joint = job.joints[0]!.id
  tobin = t.cookie('technician', 'Tobin Rask')
})

describe('the ways to a joint and to its record', () => {
  test('the job card leads to what is next on it, and once it is signed to its record', async () => {
    w.open(job, w.wheel, w.carrier, w.shaft, w.hub)
    const card = `/bench/jobs/${job.id}`
    expect(await page(t, card, tobin)).toContain(`href="/bench/joints/${joint}#now"`)
    expect(await page(t, card, tobin)).not.toContain('/record"')
    w.finishJoint(joint)
    expect(await page(t, card, tobin)).toContain(`href="/joints/${joint}/record"`)
  })

  test('the work order has it at the job, and the vehicle’s life at the work it was done in', async () => {
    const way = `href="/joints/${joint}/record">Fastening record: Drive flange`
    expect(await page(t, `/work-orders/${w.order}`, t.cookie('desk'))).toContain(way)
    const vehicle = `/vehicles/${w.vehicle}`
    expect(await page(t, vehicle, tobin)).not.toContain('Fastening record')
    w.open(job, w.wheel, w.carrier, w.shaft, w.hub)
    w.finishJoint(joint)
    w.lookFine(job.looks[0]!.id)
    w.close(job, w.hub, w.shaft, w.carrier, w.wheel)
    w.checkFine(job.final_checks[0]!.id)
    w.agree(1_000_000)
    handBack(w.desk, w.order, {})
    expect(await page(t, vehicle, tobin)).toContain(way)
    // and back from the paper to where it stands
    expect(await page(t, `/joints/${joint}/record`, tobin)).toContain(`href="/bench/joints/${joint}"`)
  })
})
