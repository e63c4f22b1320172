import { beforeEach, describe, expect, test } from 'vitest'
import { settleDoubt, signOffJoint } from '../../src/fastening/index.ts'
import { talksOfOrder, writeTalk } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type DoubtWorld, doubtWorld } from '../support/doubt-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith } from '../support/joints.ts'

const app = eachTestItsApp()
let t: TestApp
let w: DoubtWorld

beforeEach(async () => {
  t = await app()
  w = doubtWorld(t)
})

/** The words of a page, as somebody reads them. */
const asRead = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')
const words = async (url: string, role: 'owner' | 'desk' | 'technician' = 'technician') =>
  asRead(await page(t, url, t.cookie(role)))

/** A vehicle that has left with a joint of W-11, one that is here, and W-11 found outside on the 20th. */
function foundOutside() {
  const gone = w.another('QH 100 AA', 'Ena Holt', '0555 014 100')
  const joint = w.leaves(gone.order)
  const here = w.tightened()
  w.on(20)
  return { ...gone, joint, here, cause: w.check(20, 'outside') }
}

describe('/in-doubt', () => {
  test('says in words that nothing is, and what would bring something here', async () => {
    const said = await words('/in-doubt')
    expect(said).toContain('no joint')
    expect(said).toContain('No joint is in doubt.')
    expect(said).toContain('Nothing has been settled yet.')
    expect(await words('/', 'owner')).not.toContain('in doubt')
  })

  test('stands at the vehicle In the house, too: look before anyone drives it where safety hangs on the joint', async () => {
    foundOutside()
    expect(await words('/', 'desk')).toContain('A bolted joint is in doubt. waits for')
    const safe = jointWith(t, w, { severity: 'safety', reuse: 'free' })
    t.clock.set(Date.parse('2031-03-19T08:00:00Z'))
    w.tightenWith(safe, w.wrench)
    t.clock.set(Date.parse('2031-03-20T09:00:00Z'))
    expect(await words('/', 'desk')).toContain('In doubt: look at it before anyone drives it. waits for')
  })

  test('stands at the job on My jobs and on its card, with the way to settle it', async () => {
    const { here, cause } = foundOutside()
    expect(await words('/bench')).toContain('Drive flange: in doubt;')
    const job = t.deps.store.raw.prepare('select job_id from job_joints where id = ?').pluck().get(here)
    const card = await page(t, `/bench/jobs/${job}`, t.cookie('technician'))
    expect(asRead(card)).toContain('In doubt Drive flange: ')
    expect(card).toContain(`href="/in-doubt/joints/${cause}.${here}"`)
  })

  test('tells what happened, who is to be called and when each left, with a line for each call on paper', async () => {
    const { joint, vehicle, cause } = foundOutside()
    const html = await page(t, '/in-doubt', t.cookie('technician'))
    const said = asRead(html)
    expect(said).toContain('Two bolted joints on two vehicles are in doubt.')
    expect(said).toContain('Wrench W-11 was found outside its limits on 20 March 2031')
    expect(said).toContain('2 joints, on two vehicles. It was last known to be good on 15 January 2031 (K-118).')
    expect(said).toContain('all of them at once only after a good check, and there is none yet.')
    expect(html).toContain('<a href="tel:0555014100"><span class="ref">0555 014 100</span></a>')
    expect(html).toContain(`<a href="/vehicles/${vehicle}"><span class="plate">QH 100 AA</span></a>`)
    expect(html).toContain(`href="/in-doubt/joints/${cause}.${joint}"`)
    expect(said).toContain('3 Mar 2031')
    expect(said.indexOf('QH 100 AA')).toBeLessThan(said.indexOf('QH 418 TK'))
    expect(html).not.toContain(`/in-doubt/causes/${cause}`)
    const ofWrench = /href="(\/tools\/[^"]+)"/.exec(html)?.[1]
    expect(await page(t, ofWrench!, t.cookie('technician'))).toContain('W-11')
    // on paper no heading stands without what is under it
    expect(html).toMatch(/<section class="screen-only" aria-labelledby="cause-/)
    const paper = html.slice(html.indexOf('call-sheet'))
    expect(paper.slice(0, paper.indexOf('</table>')).match(/<tr/g)).toHaveLength(3)
    expect(paper).toMatch(/Date.*Who.*Said/s)
  })

  test('a call is noted from its row, as a talk of that work order, and the row says so to the next who would call', async () => {
    const { order } = foundOutside()
    const cookie = t.cookie('desk', 'Ilse Marrok')
    const address = `/in-doubt/calls/${order}`
    t.clock.set(t.clock.now() + 3_600_000)
    const before = await page(t, '/in-doubt', cookie)
    expect(before).toContain(`href="${address}"`)
    expect(before).toContain('Print this list')
    const form = await page(t, address, cookie)
    expect(asRead(form)).toContain(
      'The torque wrench that tightened the drive flange (work order 2031-0002) was later found',
    )
    expect(form).toContain('value="Ena Holt"')
    expect(form).toContain('About Drive flange, wrench W-11:')
    const unsaid = await fillIn(t, cookie, address, { said: '' })
    expect([unsaid.reply.statusCode, unsaid.reply.body.includes('value="Ena Holt"')]).toEqual([422, true])
    const said = 'Comes on Monday, does not drive until then.'
    const { reply } = await fillIn(t, cookie, address, { said })
    expect([reply.statusCode, reply.headers.location]).toEqual([303, '/in-doubt'])
    expect(talksOfOrder(w.desk, order)).toMatchObject([{ with: 'Ena Holt', how: 'By telephone', said }])
    const after = await page(t, '/in-doubt', t.cookie('technician'))
    const last = `Last talk 20 Mar 2031, 09:00, by Ilse Marrok, by telephone: ${said}`
    expect(asRead(after)).toContain(last)
    expect(asRead(after).split('Last talk')).toHaveLength(2)
    expect(asRead(after.slice(after.indexOf('call-sheet')))).toContain(`20 Mar 2031, 09:00 Ilse Marrok ${said}`)
    await page(t, '/in-doubt/calls/none', cookie, 404)
  })

  test('a talk from before it came out is none about it', async () => {
    const { order } = w.another('QH 100 AA', 'Ena Holt', '0555 014 100')
    w.leaves(order)
    writeTalk(w.desk, order, { with: 'Ena Holt', how: 'At the desk', said: 'All well' })
    w.on(20)
    w.check(20, 'outside')
    expect(await words('/in-doubt')).not.toContain('All well')
  })

  test('the desk reads it and settles nothing', async () => {
    const { joint, cause } = foundOutside()
    const html = await page(t, '/in-doubt', t.cookie('desk'))
    expect(html).toContain('Ena Holt')
    expect(html).not.toContain('/in-doubt/joints/')
    await page(t, `/in-doubt/joints/${cause}.${joint}`, t.cookie('desk'), 403)
    await page(t, '/in-doubt/joints/nothing', t.cookie('owner'), 404)
  })

  test('is told of where work is chosen', async () => {
    foundOutside()
    const sentence = 'Two bolted joints on two vehicles are in doubt. What is in doubt'
    expect(await words('/', 'owner')).toContain(sentence)
    expect(await words('/bench')).toContain(sentence)
    expect(await page(t, '/vehicles', t.cookie('owner'))).toContain('href="/in-doubt"')
  })
})

describe('settling', () => {
  test('one joint, by a person, with how; it stays on the page of the vehicle for good', async () => {
    const { joint, vehicle, cause } = foundOutside()
    const url = `/in-doubt/joints/${cause}.${joint}`
    const cookie = t.cookie('technician', 'Tobin Rask')
    expect(await words(`/vehicles/${vehicle}`)).toContain(
      'In doubt since 20 March 2031: Drive flange on work order 2031-0002: wrench W-11, which tightened it, was found outside its limits on 20 March 2031. Nobody has settled it yet.',
    )
    const empty = await fillIn(t, cookie, url, { how: '', note: 'kept as typed' })
    expect(empty.reply.statusCode).toBe(422)
    expect(empty.reply.body).toContain('value="kept as typed"')
    t.clock.set(t.clock.now() + 3 * 86_400_000)
    const { reply } = await fillIn(t, cookie, url, { how: 'Tightened again with W-12', note: '' })
    expect([reply.statusCode, reply.headers.location]).toEqual([303, '/in-doubt'])
    expect(await words(`/vehicles/${vehicle}`)).toContain(
      'In doubt from 20 March 2031 to 23 March 2031: Drive flange on work order 2031-0002: wrench W-11, which tightened it, was found outside its limits on 20 March 2031; settled by Tobin Rask: Tightened again with W-12.',
    )
    const list = await words('/in-doubt')
    expect(list).toContain('One bolted joint on one vehicle is in doubt.')
    expect(list).toContain('Tightened again with W-12')
    expect(await words(url)).toContain('Settled on 23 March 2031: Tightened again with W-12.')
  })

  test('all of a cause at once, after a good check', async () => {
    const { cause } = foundOutside()
    const url = `/in-doubt/causes/${cause}`
    const before = await page(t, url, t.cookie('owner'))
    expect(before).not.toContain('<form action="/in-doubt')
    w.on(22)
    w.check(22, 'good')
    const list = await page(t, '/in-doubt', t.cookie('owner'))
    expect(list).toContain(`href="${url}"`)
    expect(list).toContain('that check says nothing of what it tightened until then')
    const { reply } = await fillIn(t, t.cookie('owner'), url, { how: 'The bench was wrong, not the wrench' })
    expect(reply.statusCode).toBe(303)
    expect(await w.open()).toEqual([])
    await page(t, url, t.cookie('owner'), 404)
  })

  test('a person says why only later joints are touched', async () => {
    const { cause } = foundOutside()
    const url = `/calibrations/${cause}/doubted-since`
    const cookie = t.cookie('technician')
    const late = await fillIn(t, cookie, url, { at: '2031-03-21T08:00', reason: 'Fell' })
    expect(late.reply.statusCode).toBe(422)
    expect(late.reply.body).toContain('It was found outside on 20 March 2031')
    const { reply } = await fillIn(t, cookie, url, { at: '2031-03-10T08:00', reason: 'Fell, Wen saw it' })
    expect(reply.headers.location).toBe('/in-doubt')
    expect(await w.open()).toEqual([])
    expect(await words('/in-doubt')).toContain('Fell, Wen saw it')
    await page(t, `/calibrations/${w.check(20, 'good', w.W12)}/doubted-since`, cookie, 404)
  })
})

describe('a bad batch', () => {
  const batch = () => `/parts/${w.part}/batch-faults/new`
  const noted = async (joint: string, lot: string, named: boolean) => {
    const { addPartLine } = await import('../../src/work-orders/index.ts')
    const job = t.deps.store.raw.prepare('select job_id from job_joints where id = ?').pluck().get(joint) as string
    const line = { part_id: w.part, quantity: 1, batch: lot, condition: 'new' as const, cost_minor: 1, price_minor: 2 }
    addPartLine(w.desk, job, { ...line, ...(named && { joint_id: joint }) })
  }

  test('is reported by the desk, and puts in doubt what got it', async () => {
    await noted(w.joint(), '31-A07', true)
    await noted(w.joint(), '31-A07', false)
    await noted(w.joint(), '31-A08', true)
    const cookie = t.cookie('desk')
    expect(await page(t, '/parts', cookie)).toContain(`href="${batch()}"`)
    expect(await page(t, batch(), cookie)).toContain('<option value="31-A08">')
    const bad = await fillIn(t, cookie, batch(), { batch: '', reason: 'Heads crack' })
    expect(bad.reply.body).toContain('value="Heads crack"')
    const { reply } = await fillIn(t, cookie, batch(), { batch: '31-A07', reason: 'Heads crack' })
    expect(reply.headers.location).toBe('/in-doubt')
    const said = asRead(await page(t, '/in-doubt', cookie))
    expect(said).toContain('In doubt by it: 1 joint and 1 part.')
    expect(said).toContain('Batch 31-A07 of Hub bearing, HB-204, was found bad on 3 March 2031: Heads crack')
    expect(said).toContain('part fitted, no joint named')
    expect(await words('/parts', 'desk')).toContain('3 Mar 2031 Hub bearing HB-204 31-A07 Heads crack')
    const html = await page(t, '/in-doubt', t.cookie('owner'))
    const part = /\/in-doubt\/parts\/[^"]+/.exec(html)![0]
    await fillIn(t, t.cookie('owner'), part, { how: 'Looked at: it is sound' })
    expect(await words(`/vehicles/${w.vehicle}`)).toContain('settled by owner person: Looked at: it is sound.')
  })

  test('that is on no job says so', async () => {
    const cookie = t.cookie('technician')
    await fillIn(t, cookie, batch(), { batch: '99-X', reason: 'Soft' })
    expect(asRead(await page(t, '/in-doubt', cookie))).toContain('No job has a part of it: nothing is in doubt by it.')
    await page(t, '/parts/none/batch-faults/new', t.cookie('desk'), 404)
  })
})

test('what a cause of each kind says, and a safety joint its caution', async () => {
  const joint = jointWith(t, w, {
    severity: 'safety',
    count: 1,
    stages: [{ kind: 'torque', target: 25 }],
    reuse: 'free',
  })
  w.tightenWith(joint, w.wrench)
  signOffJoint(w.technician, joint, { as: 'technician' })
  w.on(20)
  const cause = w.check(20, 'outside')
  expect(await words('/', 'owner')).toContain('one of them a matter of safety')
  expect(await words(`/in-doubt/joints/${cause}.${joint}`)).toContain('Safety hangs on this joint')
  settleDoubt(w.technician, `${cause}.${joint}`, { how: 'Torque checked', checked_with: w.W12 })
  settleDoubt(w.owner, `${cause}.${joint}`, { how: 'Looked at' })
  expect(await words('/in-doubt')).toContain('wrench W-11')
})
