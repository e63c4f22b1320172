import fs from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { beforeEach, describe, expect, test } from 'vitest'
import { createOperation } from '../../src/catalogue/index.ts'
import { recordFinding } from '../../src/findings/index.ts'
import { namedAttachments } from '../../src/platform/database/attachments.ts'
import { addJob } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { photoWithPlace, picture, sendAttachment, wave } from '../support/media.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const program = eachTestItsApp()
let t: TestApp
let world: OrderWorld
beforeEach(async () => {
  t = await program()
  world = orderWorld(t)
})

const arrival = () => ({ 'subject[work_order_id]': world.order })
const jpeg = async () => (await picture()).jpeg().toBuffer()
const rows = () => t.deps.store.raw.prepare('select count(*) from attachments').pluck().get()
const files = () => (fs.existsSync(t.deps.store.files) ? fs.readdirSync(t.deps.store.files) : [])

describe('adding one', () => {
  test('keeps the photo upright and says who, when and why', async () => {
    const fields = { ...arrival(), moment: 'before', why: 'Scrape on the left sliding door' }
    const { body, headers } = await sendAttachment(t, { as: 'desk', fields, bytes: await photoWithPlace() }, 201)
    expect(body).toMatchObject({
      subject: { work_order_id: world.order },
      ...{ kind: 'photo', media_type: 'image/jpeg', moment: 'before', why: 'Scrape on the left sliding door' },
      ...{ file_name: 'file.jpg', created_by: t.as('desk').actor?.id },
    })
    expect(headers.location).toBe(`/api/attachments/${body.id}`)
    expect(files()).toEqual([body.sha256])
    const kept = fs.readFileSync(path.join(t.deps.store.files, body.sha256))
    expect(kept.length).toBe(body.bytes)
    const { width, height, exif } = await sharp(kept).metadata()
    expect({ width, height, exif }).toEqual({ width: 40, height: 60, exif: undefined })
    const read = await scenario(t, { as: 'technician', get: `/api/attachments/${body.id}`, expect: 200 })
    expect(read.body).toEqual(body)
  })

  test('is of a mark, a look, a finding, a final check, an order or a job, and each lists its own', async () => {
    const marked = createOperation(world.owner, {
      ...{ name: 'Belt pointer: set', hours: 0.2, access_step_ids: [], joints: [], looks: [], final_checks: [] },
      marks: [{ text: 'Pointer of the tensioner to its notch' }],
    }).id
    const mark = addJob(world.desk, world.order, { operation_id: marked }).marks[0]!.id
    const job = world.add('bearing')
    const finding = recordFinding(world.technician, {
      ...{ vehicle_id: world.vehicle, component: 'Hub seal', severity: 'breakdown', found_on: '2031-03-03' },
    })
    const subjects: Record<string, string> = {
      mark_id: mark,
      look_id: job.looks[0]!.id,
      finding_id: finding.id,
      final_check_id: job.final_checks[0]!.id,
      work_order_id: world.order,
      job_id: job.id,
    }
    for (const [key, id] of Object.entries(subjects)) {
      const { body } = await sendAttachment(t, { fields: { [`subject[${key}]`]: id }, bytes: wave() }, 201)
      expect(body.subject).toEqual({ [key]: id })
      const list = await scenario(t, { as: 'desk', get: `/api/attachments?${key}=${id}`, expect: 200 })
      expect(list.body.items).toEqual([body])
    }
    const first = await scenario(t, { as: 'desk', get: '/api/attachments?limit=3', expect: 200 })
    const cursor = encodeURIComponent(first.body.next_cursor)
    const second = await scenario(t, { as: 'desk', get: `/api/attachments?limit=3&cursor=${cursor}`, expect: 200 })
    expect([first.body.items.length, second.body.items.length, second.body.next_cursor]).toEqual([3, 3, null])
    expect(files()).toHaveLength(1)
  })

  test('stores the same file once, however often it is sent, and two rows name it', async () => {
    const bytes = await jpeg()
    const one = await sendAttachment(t, { fields: arrival(), bytes }, 201)
    const other = await sendAttachment(t, { fields: arrival(), bytes, name: 'again.jpg' }, 201)
    expect(other.body.sha256).toBe(one.body.sha256)
    expect(other.body.id).not.toBe(one.body.id)
    expect(files()).toEqual([one.body.sha256])
    expect(namedAttachments(t.deps.store.raw)).toEqual([one.body.sha256])
  })

  test('puts a file right that was damaged on the disk', async () => {
    const { body } = await sendAttachment(t, { fields: arrival(), bytes: wave() }, 201)
    const file = path.join(t.deps.store.files, body.sha256)
    fs.writeFileSync(file, 'damaged')
    await sendAttachment(t, { fields: arrival(), bytes: wave() }, 201)
    expect(fs.readFileSync(file)).toEqual(wave())
  })

  test('with the same key is done once', async () => {
    const sending = { fields: arrival(), bytes: wave(), key: 'once' }
    const one = await sendAttachment(t, sending, 201)
    expect((await sendAttachment(t, sending, 201)).text).toBe(one.text)
    expect(rows()).toBe(1)
    await sendAttachment(t, { ...sending, bytes: wave(0.2) }, 422)
    expect(rows()).toBe(1)
  })
})

describe('what is refused', () => {
  async function refused(sending: Parameters<typeof sendAttachment>[1], status: number, type: string) {
    const { body } = await sendAttachment(t, sending, status)
    expect(body.type).toBe(`/problems/${type}`)
    expect(rows()).toBe(0)
    expect(files()).toEqual([])
    return body
  }
  const pointers = (body: { errors?: { pointer: string }[] }) => body.errors?.map(error => error.pointer)

  test('a disguised page, a cut-off photo and one that is too large, each in words', async () => {
    const html = Buffer.from('<!doctype html><script>alert(1)</script>')
    const disguised = await refused({ fields: arrival(), bytes: html, name: 'a.jpg' }, 415, 'file-not-taken')
    expect(disguised.detail).toMatch(/“a\.jpg” is no photo.*JPEG, PNG or WebP/)
    const whole = await (await picture(600, 400)).jpeg().toBuffer()
    const cut = await refused({ fields: arrival(), bytes: whole.subarray(0, 900) }, 422, 'invalid-input')
    expect(pointers(cut)).toEqual(['/file'])
    const large = Buffer.concat([whole, Buffer.alloc(20_000_000)])
    expect((await refused({ fields: arrival(), bytes: large }, 413, 'file-too-large')).detail).toContain('20 MB')
    const huge = Buffer.concat([whole, Buffer.alloc(60_000_000)])
    expect((await refused({ fields: arrival(), bytes: huge }, 413, 'file-too-large')).detail).toContain('60 MB')
  })

  test('no file, no subject, two subjects, an unknown one, and a word that is none of the moments', async () => {
    const bytes = wave()
    expect(pointers(await refused({ fields: arrival() }, 422, 'invalid-input'))).toEqual(['/file'])
    await refused({ bytes }, 422, 'invalid-input')
    await refused({ fields: { ...arrival(), 'subject[job_id]': 'x' }, bytes }, 422, 'invalid-input')
    for (const key of ['mark_id', 'look_id', 'finding_id', 'final_check_id', 'work_order_id', 'job_id']) {
      const body = await refused({ fields: { [`subject[${key}]`]: 'nobody' }, bytes }, 422, 'invalid-input')
      expect(pointers(body)).toEqual([`/subject/${key}`])
    }
    const moment = await refused({ fields: { ...arrival(), moment: 'during' }, bytes }, 422, 'invalid-input')
    expect(pointers(moment)).toEqual(['/moment'])
  })

  test('whoever is not signed in, a body of JSON without a file, and a broken one', async () => {
    await sendAttachment(t, { as: null, fields: arrival(), bytes: wave() }, 401)
    const body = { subject: { work_order_id: world.order } }
    await scenario(t, { as: 'desk', post: '/api/attachments', body, expect: 422, fields: ['/file'] })
    const headers = { 'content-type': 'multipart/form-data; boundary=x' }
    await scenario(t, { as: 'desk', post: '/api/attachments', body: 'nonsense', headers, expect: 400 })
    expect(rows()).toBe(0)
  })
})

describe('the bytes', () => {
  const get = (id: string, headers: Record<string, string> = {}) =>
    t.app.inject({
      url: `/api/attachments/${id}/file`,
      headers: { authorization: `Bearer ${t.tokens.desk}`, ...headers },
    })

  test('come with their type, never sniffed, kept by one browser for a year', async () => {
    const { body } = await sendAttachment(t, { fields: arrival(), bytes: wave() }, 201)
    const reply = await get(body.id)
    expect(reply.statusCode).toBe(200)
    expect(reply.rawPayload).toEqual(wave())
    expect(reply.headers).toMatchObject({
      'content-type': 'audio/wav',
      'x-content-type-options': 'nosniff',
      'cache-control': 'private, max-age=31536000, immutable',
      'accept-ranges': 'bytes',
    })
    expect(reply.headers['content-disposition']).toMatch(/^inline; filename="sound-[0-9a-f]{12}\.wav"$/)
  })

  test('come in ranges, so that a telephone can seek', async () => {
    const { body } = await sendAttachment(t, { fields: arrival(), bytes: wave() }, 201)
    const part = await get(body.id, { range: 'bytes=100-199' })
    expect([part.statusCode, part.headers['content-range']]).toEqual([206, `bytes 100-199/${wave().length}`])
    expect(part.rawPayload).toEqual(wave().subarray(100, 200))
    expect((await get(body.id, { range: 'bytes=99999999-' })).statusCode).toBe(416)
  })

  test('go to nobody who is not signed in, and an id that names nothing is 404', async () => {
    const { body } = await sendAttachment(t, { fields: arrival(), bytes: wave() }, 201)
    expect((await t.app.inject({ url: `/api/attachments/${body.id}/file` })).statusCode).toBe(401)
    const page = await t.app.inject({ url: `/attachments/${body.id}/file` })
    expect([page.statusCode, page.headers.location]).toEqual([303, expect.stringMatching(/^\/login\?next=/)])
    for (const id of ['nobody', '..%2F..%2Fshop.db', '%00']) expect((await get(id)).statusCode).toBe(404)
  })

  test('that are gone from the disk are 404, and say what to do', async () => {
    const { body } = await sendAttachment(t, { fields: arrival(), bytes: await jpeg() }, 201)
    fs.writeFileSync(path.join(t.deps.store.files, body.sha256), 'damaged')
    const headers = { cookie: t.cookie('desk') }
    expect((await t.app.inject({ url: `/attachments/${body.id}/preview`, headers })).statusCode).toBe(404)
    fs.rmSync(path.join(t.deps.store.files, body.sha256))
    const reply = await get(body.id)
    expect(reply.statusCode).toBe(404)
    expect(reply.json().detail).toMatch(/missing or damaged on the disk.*verify/)
  })
})

test('stands in the API document: a multipart body with its file, and the bytes', async () => {
  const { body } = await scenario(t, { as: 'desk', get: '/api/openapi.json', expect: 200 })
  const content = body.paths['/api/attachments'].post.requestBody.content
  expect(Object.keys(content)).toEqual(['multipart/form-data'])
  const { properties } = content['multipart/form-data'].schema
  expect(properties.file).toEqual({ type: 'string', contentMediaType: 'application/octet-stream' })
  expect(properties.subject).toEqual({ $ref: '#/components/schemas/AttachmentSubject' })
  expect(body.paths['/api/attachments/{id}/file'].get.responses['206']).toBeDefined()
  expect(body.components.schemas.Attachment).toBeDefined()
})
