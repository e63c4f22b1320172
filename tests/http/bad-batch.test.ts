import { beforeEach, describe, expect, test } from 'vitest'
import { recordTorque, settleDoubt, signOffJoint } from '../../src/fastening/index.ts'
import { createPart, reportBatchFault } from '../../src/parts/index.ts'
import { addPartLine } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type DoubtWorld, doubtWorld } from '../support/doubt-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'
import { issueNew, jointWith } from '../support/joints.ts'

const app = eachTestItsApp()
let t: TestApp
let w: DoubtWorld

beforeEach(async () => {
  t = await app()
  w = doubtWorld(t)
})

const jobOf = (joint: string) =>
  t.deps.store.raw.prepare('select job_id from job_joints where id = ?').pluck().get(joint) as string
/** Two bolts for one use, 25 N·m. */
const singleUse = (more: object = {}) =>
  jointWith(t, w, { count: 2, stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }], ...more })
const bad = (batch = '31-A07') => reportBatchFault(w.desk, w.part, { batch, reason: 'Heads crack.' })
const sign = (joint: string, more: object = {}) =>
  scenario(t, {
    ...{ as: 'technician', post: `/api/joints/${joint}/sign-offs`, body: { as: 'technician' }, expect: 201 },
    ...more,
  })
const tightenBoth = (joint: string, more: object = {}) => {
  for (const position of [1, 2]) w.tightenWith(joint, w.wrench, { position, ...more })
}

describe('a batch that was found bad', () => {
  const line = { quantity: 2, condition: 'new', cost_minor: 40, price_minor: 90 }

  test('goes on no job any more: which, since when, who said so, and what to do', async () => {
    const joint = singleUse()
    const fault = bad()
    for (const batch of ['31-A07', '31-a07']) {
      const body = { ...line, part_id: w.part, batch, joint_id: joint }
      const refused = await scenario(t, {
        ...{ as: 'desk', post: `/api/jobs/${jobOf(joint)}/part-lines`, body, expect: 409, problem: 'batch-bad' },
      })
      expect(refused.body.detail).toBe(
        'Batch 31-A07 of Hub bearing was found bad on 3 March 2031 by desk token: Heads crack. Put it aside and take one of another batch; what is of it in a vehicle already comes out again.',
      )
      expect(refused.body.batch_fault_id).toBe(fault.id)
    }
    const cookie = t.cookie('technician')
    const address = `/bench/joints/${joint}`
    const typed = { part_id: w.part, batch: '31-A07', quantity: '2' }
    const { reply } = await fillIn(t, cookie, `${address}/part-lines`, typed, address)
    expect(reply.statusCode).toBe(409)
    expect(reply.body).toContain('Batch 31-A07 of Hub bearing was found bad')
    expect(reply.body).toContain('value="31-A07"')
    // another batch of it, another part of a batch that is called the same, and none at all
    issueNew(w, joint, 2, { batch: '31-A08' })
    issueNew(w, joint, 1, { batch: undefined })
  })

  test('keeps a joint that got some of it from being signed, until others are in and a person has settled it', async () => {
    const joint = singleUse()
    const address = `/bench/joints/${joint}`
    issueNew(w, joint, 2, { batch: '31-A07' })
    tightenBoth(joint)
    const { id } = bad()
    const { body } = await sign(joint, { expect: 409, problem: 'joint-incomplete' })
    expect(body.blockers).toEqual([
      {
        reason: 'in_doubt',
        sentence:
          'It is in doubt: it got some of batch 31-A07 of Hub bearing, which was found bad on 3 March 2031: Heads crack. Fit fasteners of another batch, with all their stages, and settle the doubt first.',
        href: `/in-doubt/joints/${id}.${joint}`,
      },
    ])
    const html = await page(t, address, t.cookie('technician'))
    expect(html).not.toContain('>Sign off</button>')
    expect(html).toContain(`href="/in-doubt/joints/${id}.${joint}"`)
    // as many as it needs were issued; the others are issued all the same
    expect(html).toContain('In place of those of the bad batch: new ones of another')
    await fillIn(t, t.cookie('technician'), `${address}/part-lines`, { part_id: w.part, batch: 'A08' }, address)
    for (const position of [1, 2])
      recordTorque(w.technician, joint, { position, stage: 1, fastener: 2, event: 'replaced' })
    tightenBoth(joint)
    const again = await sign(joint, { expect: 409 })
    expect(again.body.blockers).toMatchObject([{ reason: 'in_doubt' }])
    expect(again.body.blockers[0].sentence).toContain('It was done anew since: settle the doubt first.')
    settleDoubt(w.technician, `${id}.${joint}`, { how: 'Renewed' })
    await sign(joint)
  })

  test('that were issued and lie in the box still, are not taken for new ones of another batch', async () => {
    const joint = singleUse({ severity: 'safety' })
    issueNew(w, joint, 2, { batch: '31-A07' })
    const { id } = bad()
    tightenBoth(joint)
    const settle = (expect: number) =>
      scenario(t, {
        ...{ as: 'technician', post: `/api/doubts/${id}.${joint}/settlement`, body: { how: 'Others fitted' }, expect },
      })
    await settle(422)
    issueNew(w, joint, 2, { batch: 'A08' })
    await settle(201)
  })
})

test('a reading with a wrench that was found outside keeps a joint from being signed, also by the second person', async () => {
  const joint = singleUse({ severity: 'safety', reuse: 'free' })
  tightenBoth(joint)
  signOffJoint(w.technician, joint, { as: 'technician' })
  w.on(5)
  const cause = w.check(5, 'outside')
  const second = { as: 'owner', body: { as: 'second_person' } }
  const { body } = await sign(joint, { ...second, expect: 409, problem: 'joint-incomplete' })
  expect(body.blockers[0].sentence).toBe(
    'It is in doubt: wrench W-11, which tightened it, was found outside its limits on 5 March 2031. Tighten anew what it tightened, or check the torque, and settle the doubt first.',
  )
  for (const position of [1, 2]) w.tightenWith(joint, w.W12, { position })
  expect((await sign(joint, { expect: 409 })).body.blockers[0].sentence).toContain('It was done anew since')
  settleDoubt(w.technician, `${cause}.${joint}`, { how: 'Tightened again with W-12' })
  expect((await sign(joint, { expect: 409 })).body.blockers[0].sentence).toContain('A second person looks')
  settleDoubt(w.owner, `${cause}.${joint}`, { how: 'Looked at' })
  await sign(joint)
  await sign(joint, second)
})

test('another part whose batch is called the same is no matter', () => {
  bad()
  const other = createPart(w.desk, { number: 'RL-7', name: 'Rear lamp bulb' }).id
  const line = { part_id: other, quantity: 1, condition: 'new' as const, cost_minor: 1, price_minor: 2 }
  expect(() => addPartLine(w.desk, w.add('bulb').id, { ...line, batch: '31-A07' })).not.toThrow()
})
