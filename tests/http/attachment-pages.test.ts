import { beforeEach, describe, expect, test } from 'vitest'
import { addAttachment, keepSentFile } from '../../src/attachments/index.ts'
import type { AttachmentMoment } from '../../src/core/vocabulary.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { formFields } from '../support/http.ts'
import { multipart, picture, wave } from '../support/media.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const program = eachTestItsApp()
let t: TestApp
let world: OrderWorld
beforeEach(async () => {
  t = await program()
  world = orderWorld(t)
})

const jpeg = async () => (await picture()).jpeg().toBuffer()
const rows = () => t.deps.store.raw.prepare('select count(*) from attachments').pluck().get()

/** Opens the form, fills it in and sends it with a file, as a browser does. */
async function send(
  asked: string,
  typed: Record<string, string>,
  bytes: Buffer | null,
  cookie = t.cookie('technician'),
  name = 'photo.jpg',
) {
  const shown = formFields(await page(t, asked, cookie), '/attachments/new')
  delete shown.file
  // the control that was left empty sends an empty part without a name
  const files = [
    { name: '', bytes: Buffer.alloc(0), type: 'application/octet-stream' },
    ...(bytes === null ? [] : [{ name, bytes, type: 'image/jpeg' }]),
  ]
  const { type, payload } = await multipart({ ...shown, ...typed }, files)
  return t.app.inject({
    method: 'POST',
    url: '/attachments/new',
    headers: { cookie, 'content-type': type },
    payload,
  })
}

describe('the form', () => {
  test('keeps a photo of the arrival, goes back to the order, and it stands there', async () => {
    const cookie = t.cookie('desk')
    const asked = `/attachments/new?work_order_id=${world.order}&back=/work-orders/${world.order}`
    const shown = await page(t, asked, cookie)
    expect(shown).toContain('Arrival, work order')
    expect(shown).toMatch(/<input type="file" id="recorder" name="file" accept="audio\/\*" capture="user">/)
    expect(shown).toMatch(/<input type="file" id="camera" name="file" accept="image\/\*" capture="environment">/)
    expect(shown).toMatch(/<input type="file" id="file" name="file" accept="image\/\*,audio\/\*,video\/\*">/)
    expect(shown).toContain('enctype="multipart/form-data"')
    const reply = await send(asked, { why: 'Scrape on the left door' }, await jpeg(), cookie)
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `/work-orders/${world.order}`])
    const order = await page(t, `/work-orders/${world.order}`, cookie)
    expect(order).toContain('The photo is kept.')
    expect(order).toMatch(/<img src="\/attachments\/[^"]+\/preview" alt="Photo of Arrival">/)
    expect(order).toMatch(/Scrape on the left door\. <small>desk person, 3 Mar 2031, 08:00<\/small>/)
    const preview = /src="(\/attachments\/[^"]+\/preview)"/.exec(order)![1]!
    const small = await t.app.inject({ url: preview, headers: { cookie } })
    expect([small.statusCode, small.headers['content-type']]).toEqual([200, 'image/jpeg'])
    expect(small.headers['content-security-policy']).toContain("default-src 'self'")
  })

  test('with "add another" comes back to itself, and shows what is kept', async () => {
    const job = world.add('bearing')
    world.open(job, world.wheel, world.carrier)
    const asked = `/attachments/new?look_id=${job.looks[0]!.id}`
    const reply = await send(asked, { again: 'true' }, await jpeg())
    expect(reply.statusCode).toBe(303)
    const again = reply.headers.location as string
    expect(again).toMatch(/^\/attachments\/new\?look_id=/)
    const shown = await page(t, again, t.cookie('technician'))
    expect(shown).toContain('Kept already')
    expect(shown).toContain('Photo of Look: Brake hose')
    const card = await page(t, `/bench/jobs/${job.id}`, t.cookie('technician'))
    expect(card).toContain('Photo of Look: Brake hose')
    expect(card).toMatch(/href="\/attachments\/new\?look_id&#x3D;[^"]*">Add a photo or sound/)
    expect(card).toMatch(/href="\/attachments\/new\?job_id&#x3D;[^"]*">Add a photo or sound of the job itself/)
  })

  test('remembers before or after from the address that led to it', async () => {
    const job = world.add('bearing')
    const shown = await page(t, `/attachments/new?job_id=${job.id}&moment=after`, t.cookie('technician'))
    expect(shown).toMatch(/<option value="after" selected>/)
    await send(`/attachments/new?job_id=${job.id}&moment=after`, {}, wave(), t.cookie('technician'), 'x.wav')
    expect(t.deps.store.raw.prepare('select moment from attachments').pluck().get()).toBe('after')
  })

  test.each([
    ['https://elsewhere.example/', 'another site'],
    ['//elsewhere.example/', 'another site without its scheme'],
    ['/\\elsewhere.example/', 'another site behind a backslash'],
    ['javascript:alert(1)', 'a script'],
  ])('never goes back to %s (%s)', async back => {
    const asked = `/attachments/new?work_order_id=${world.order}&back=${encodeURIComponent(back)}`
    const shown = await page(t, asked, t.cookie('desk'))
    expect(shown).not.toContain('elsewhere.example')
    expect(shown).not.toContain('javascript:')
    const reply = await send(asked, { back }, await jpeg())
    expect(reply.headers.location).toBe(`/work-orders/${world.order}`)
  })
})

describe('what is refused comes back on the form, with the words as they were typed', () => {
  const asked = () => `/attachments/new?work_order_id=${world.order}`
  const words = { why: 'Hums above forty', moment: 'before' }

  async function comesBack(bytes: Buffer | null, status: number, says: RegExp) {
    const reply = await send(asked(), words, bytes)
    expect(reply.statusCode).toBe(status)
    expect(reply.body).toMatch(says)
    expect(reply.body).toContain('value="Hums above forty"')
    expect(reply.body).toMatch(/<option value="before" selected>/)
    expect(reply.body).toContain(`name="subject[work_order_id]" value="${world.order}"`)
    expect(reply.body).toMatch(/class="error-summary"[\s\S]*href="#file"/)
    expect(rows()).toBe(0)
  }

  test('no file, a disguised one, a damaged one, one too large for its kind, and one too large for any', async () => {
    await comesBack(null, 422, /Take a photo, or choose a file/)
    await comesBack(Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"/>'), 415, /“photo\.jpg” is no photo/)
    const whole = await (await picture(600, 400)).jpeg().toBuffer()
    await comesBack(whole.subarray(0, 900), 422, /cut off or damaged/)
    await comesBack(Buffer.concat([whole, Buffer.alloc(20_000_000)]), 413, /may have 20 MB/)
    await comesBack(Buffer.concat([whole, Buffer.alloc(60_000_000)]), 413, /may have 60 MB/)
  })

  test('a subject that names nothing is a page that says so', async () => {
    const cookie = t.cookie('desk')
    await page(t, '/attachments/new', cookie, 404)
    await page(t, '/attachments/new?mark_id=nobody', cookie, 404)
    const { type, payload } = await multipart({ _key: 'k', 'subject[mark_id]': 'nobody' }, [
      { name: 'a.jpg', bytes: await jpeg(), type: 'image/jpeg' },
    ])
    const reply = await t.app.inject({
      method: 'POST',
      url: '/attachments/new',
      headers: { cookie, 'content-type': type },
      payload,
    })
    expect(reply.statusCode).toBe(404)
    expect(rows()).toBe(0)
  })
})

test('two of a kind, before and after the work, stand side by side and can be played', async () => {
  const job = world.add('bearing')
  const add = async (moment: AttachmentMoment, seconds: number) => {
    const file = await keepSentFile(world.technician, { filename: `${moment}.wav`, bytes: wave(seconds) }, '/file')
    addAttachment(world.technician, { subject: { job_id: job.id }, moment, why: `Taken ${moment}` }, file)
  }
  await add('after', 0.2)
  await add('before', 0.1)
  const card = await page(t, `/bench/jobs/${job.id}`, t.cookie('technician'))
  const pair = /<div class="before-and-after">([\s\S]*?)<\/div>/.exec(card)![1]!
  expect(pair.match(/<audio controls/g)).toHaveLength(2)
  expect(pair.indexOf('Taken before')).toBeLessThan(pair.indexOf('Taken after'))
  expect(pair).toContain('A sound recording is kept with the record')
  const order = await page(t, `/work-orders/${world.order}`, t.cookie('desk'))
  expect(order).toContain('<div class="before-and-after">')
})

describe('the page of a vehicle', () => {
  const address = () => `/vehicles/${world.vehicle}`
  const photo = async () => keepSentFile(world.technician, { filename: 'a.jpg', bytes: await jpeg() }, '/file')

  test('shows what was photographed and recorded on all its stays, newest first, with who, when and what of', async () => {
    const kept = await photo()
    const at = (minutes: number) => t.clock.set(t.clock.now() + minutes * 60_000)
    const cookie = t.cookie('desk')
    expect(await page(t, address(), cookie)).not.toContain('id="recordings"')
    addAttachment(world.desk, { subject: { work_order_id: world.order }, why: 'Scrape on the left door' }, kept)
    at(5)
    const job = world.add('bearing')
    addAttachment(world.technician, { subject: { look_id: job.looks[0]!.id } }, kept)
    at(5)
    const sound = await keepSentFile(world.technician, { filename: 'x.wav', bytes: wave() }, '/file')
    addAttachment(world.technician, { subject: { job_id: job.id }, moment: 'before' }, sound)
    // another vehicle's stay is not among them
    const { id: other } = createVehicle(world.desk, { family: 'Ardeck', odometer_unit: 'km' })
    addAttachment(
      world.desk,
      { subject: { work_order_id: world.openOrder({ vehicle_id: other }) }, why: 'Not ours' },
      kept,
    )
    const html = await page(t, address(), cookie)
    const shown = html.slice(html.indexOf('id="recordings"'))
    const captions = [...shown.matchAll(/<figcaption>(.*?)<\/figcaption>/gs)].map(([, text]) =>
      text!
        .replace(/<[^>]*>/g, '')
        .replace(/\s+/g, ' ')
        .trim(),
    )
    expect(captions).toEqual([
      'Job A, Rear wheel bearing: replace Before. technician token, 3 Mar 2031, 08:10',
      'Look: Brake hose technician token, 3 Mar 2031, 08:05',
      'Arrival, work order 2031-0001 Scrape on the left door. desk token, 3 Mar 2031, 08:00',
    ])
    expect(shown).toContain(`href="/bench/jobs/${job.id}"`)
    expect(shown).toContain(`href="/work-orders/${world.order}"`)
    expect(shown).not.toContain('Show all')
  })

  test('shows eight of many, and all when asked', async () => {
    const kept = await photo()
    for (let nth = 1; nth <= 10; nth += 1)
      addAttachment(world.desk, { subject: { work_order_id: world.order }, why: `Number ${nth}` }, kept)
    const few = await page(t, address(), t.cookie('desk'))
    expect(few.match(/Number \d+/g)).toEqual([10, 9, 8, 7, 6, 5, 4, 3].map(nth => `Number ${nth}`))
    expect(few).toMatch(/recordings&#x3D;all#recordings">Show all 10</)
    const all = await page(t, `${address()}?recordings=all`, t.cookie('desk'))
    expect(all.match(/Number \d+/g)).toHaveLength(10)
    expect(all).not.toContain('Show all')
  })
})
