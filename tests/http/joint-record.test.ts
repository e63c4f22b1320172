import { beforeEach, describe, expect, test } from 'vitest'
import { leaveJoint, recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { createPart } from '../../src/parts/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { jointWith } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const getApp = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let tobin: string

beforeEach(async () => {
  t = await getApp()
  w = orderWorld(t)
  tobin = t.cookie('technician', 'Tobin Rask')
})

const plain = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/&nbsp;|\u00a0|\s+/g, ' ')

describe('the printed fastening record', () => {
  const paper = async (joint: string) => plain(await page(t, `/joints/${joint}/record`, tobin))

  test('has every fastener and stage, what was put right, left, and the tools with their certificates', async () => {
    const joint = jointWith(t, w, { reuse: 'free', on_failure: 'restart', thread: 'M10 × 1.25', class: '10.9' })
    const wrong = recordTorque(w.technician, joint, {
      ...{ position: 1, stage: 1, value: 36, unit: 'N.m', basis: 'measured', wrench_id: w.wrench },
    })
    recordTorque(w.technician, joint, {
      ...{ position: 1, stage: 1, value: 26, unit: 'N.m', basis: 'measured', wrench_id: w.wrench },
      ...{ supersedes: wrong.id, reason: 'Read it upside down' },
    })
    recordTorque(w.technician, joint, { position: 4, stage: 1, event: 'slipped' })
    leaveJoint(w.technician, joint, { reason: 'End of the day' })
    const html = await page(t, `/joints/${joint}/record`, tobin)
    expect(html).toContain('<s>36</s> 26')
    const said = plain(html)
    expect(said).toContain('M10 × 1.25, class 10.9')
    expect(said).toContain('revision 1, by Invented maker’s manual, page 40')
    expect(said).toContain('K-118, 15 Jan 2031, due 15 Jan 2032')
    expect(said).toContain('gauge or socket slipped')
    // on paper each stage has its own who and when, with the day
    expect(said).toContain('36 26 technician token 3 Mar 2031, 08:00')
    expect(said).toContain('put right from 36 N·m: outside its limits to 26 N·m: conforms')
    expect(said).toContain('stopped at fastener')
    expect(said).toContain('End of the day')
    expect(said).toContain('Nobody has signed this joint.')
    expect(html).toMatch(/aria-label="QR code: the live record"/)
  })

  test('names the newest link of the chain over the joint’s own records', async () => {
    const joint = jointWith(t, w, { reuse: 'free' })
    w.tighten(joint, 1)
    const own = t.deps.store.raw.prepare('select seq, hash from events order by seq desc').get() as {
      seq: number
      hash: string
    }
    createPart(w.desk, { number: 'X-1', name: 'Something else' })
    const hash = own.hash.slice(0, 16).replace(/(.{4})(?=.)/g, '$1 ')
    expect(await paper(joint)).toContain(`Newest entry of this joint in the record chain: ${own.seq}, ${hash}`)
  })

  test('bears the stripe of whoever signed on its heading and by their names, and nowhere else', async () => {
    const joint = jointWith(t, w, { reuse: 'free', stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }] })
    for (const position of [1, 4, 2, 5, 3, 6]) w.tighten(joint, position)
    signOffJoint(w.technician, joint, { as: 'technician' })
    const html = await page(t, `/joints/${joint}/record`, tobin)
    expect([...html.matchAll(/<(h\d) id="(\w+)" class="signed"/g)].map(([, , id]) => id)).toEqual(['stands'])
    expect(plain(html)).toContain('counted clockwise from the top, they are tightened 1 4 2 5 3 6')
  })

  test('is there for a joint on which nothing is recorded, and not for one that is none', async () => {
    const joint = jointWith(t, w)
    expect(await paper(joint)).toContain('Nothing is recorded on this joint yet.')
    await page(t, '/joints/none/record', tobin, 404)
  })
})
