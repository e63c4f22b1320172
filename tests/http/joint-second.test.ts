import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let tobin: string
let wen: string

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  tobin = t.cookie('technician', 'Tobin Rask')
  wen = t.cookie('technician', 'Wen Adeyo')
  t.cookie('desk', 'Ilse Marrok')
})

const stages = [{ kind: 'torque' as const, target: 25, lower: 20, upper: 30 }]
const aJoint = (more: object = {}) =>
  `/bench/joints/${jointWith(t, w, { severity: 'safety', reuse: 'free', count: 2, stages, ...more })}`
const plain = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\u00a0|\s+/g, ' ')
const show = async (joint: string, who: string) => plain(await page(t, joint, who))
const LAST = 'You are the only one left who could be its second person.'

describe('who can sign as second person', () => {
  test('is named: who may sign and tightened none of it, never the desk', async () => {
    const joint = aJoint()
    expect(await show(joint, tobin)).toContain('Tobin Rask or Wen Adeyo: whoever tightens none of it')
    for (const _ of [1, 2]) await fillIn(t, tobin, joint, { value: '25' })
    await fillIn(t, tobin, `${joint}/sign-offs`, {}, joint)
    expect(await show(joint, tobin)).toContain('another looks at it and signs too. That can be Wen Adeyo.')
    expect(await show(aJoint({ severity: 'breakdown' }), tobin)).not.toContain('whoever tightens none of it')
  })

  test('whoever carries on, and would leave nobody, is told before', async () => {
    const joint = aJoint()
    await fillIn(t, tobin, joint, { value: '25' })
    await fillIn(t, tobin, `${joint}/leavings`, { reason: 'Called away' }, joint)
    const left = await show(joint, wen)
    expect(left).toMatch(
      /Left half way by Tobin Rask On 3 Mar 2031, 08:00, at fastener 2, stage 1: Called away\..*You are the only one left.*nobody is left to sign as the second person\..*Carry on/,
    )
    expect(await show(joint, tobin)).not.toContain(LAST)
    await fillIn(t, wen, `${joint}/resumptions`, { how: 'carry_on' }, joint)
    expect(await show(joint, wen)).toContain(LAST)
    await fillIn(t, wen, joint, { value: '25' })
    await fillIn(t, wen, `${joint}/sign-offs`, {}, joint)
    const signed = await show(joint, wen)
    expect(signed).toContain('nobody is left: everybody who may sign has tightened some of it')
    expect(signed).toContain('Nobody who may sign is left')
    t.cookie('owner', 'Marta Oake')
    expect(await show(joint, wen)).toContain('That can be Marta Oake.')
  })

  test('alone in the workshop it says after how long one may look again oneself', async () => {
    patchSettings(w.owner, { look_again_after_minutes: 30 }, settingsVersion(w.owner))
    const joint = aJoint()
    await fillIn(t, tobin, joint, { value: '25' })
    expect(await show(joint, wen)).toContain('you can only look again yourself, 30 minutes after signing')
  })
})
