import { describe, expect, test } from 'vitest'
import { createCustomer, createVehicle, keepersOfVehicle, vehicleById } from '../../src/vehicles/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { formFields, sendForm } from '../support/http.ts'

const app = eachTestItsApp()

const van = (t: TestApp, more: object = {}) =>
  createVehicle(t.system, { family: 'Corvane Haulette B', plate: 'QH 418 TK', odometer_unit: 'km', ...more })
const bodil = (t: TestApp) => createCustomer(t.system, { name: 'Bodil Farrow', phone: '0555 014 220' })

describe('/vehicles', () => {
  test('the one box opens the only match and lists several, with their keeper', async () => {
    const t = await app()
    const { id } = van(t, { keeper_id: bodil(t).id, frame_number: 'XC9HL1D95VR004418' })
    van(t, { plate: 'QH 077 VD' })
    const only = await t.app.inject({ url: '/vehicles?q=farrow', headers: { cookie: t.cookie('desk') } })
    expect([only.statusCode, only.headers.location]).toEqual([303, `/vehicles/${id}`])
    const html = await page(t, '/vehicles?q=qh', t.cookie('desk'))
    expect(html).toContain(`href="/vehicles/${id}"`)
    expect(html).toContain('Bodil Farrow')
    expect(html).toContain('href="tel:0555014220"')
    expect(html).toContain('Found with “qh”')
    expect(await page(t, '/vehicles', t.cookie('technician'))).toContain('QH 077 VD')
  })

  test('what is not here is offered to be added, and what was typed comes back escaped', async () => {
    const t = await app()
    const html = await page(t, '/vehicles?q=%3Cb%3Ex%22', t.cookie('desk'))
    expect(html).not.toContain('<b>x')
    expect(html).toContain('value="&lt;b&gt;x&quot;"')
    expect(html).toContain('/take-in/new?name&#x3D;%3Cb%3Ex%22')
    expect(await page(t, '/vehicles?q=QH%209', t.cookie('technician'))).toContain('/vehicles/new?plate&#x3D;QH+9')
    expect(await page(t, '/vehicles', t.cookie('desk'))).toContain('No vehicle is in the book yet')
  })

  test('a long list goes on', async () => {
    const t = await app()
    for (let n = 0; n < 51; n++) van(t, { plate: `QH ${100 + n}` })
    const first = await page(t, '/vehicles', t.cookie('desk'))
    expect(first).toContain('from&#x3D;50')
    expect(first).not.toContain('QH 100<')
    expect(await page(t, '/vehicles?from=50', t.cookie('desk'))).toContain('QH 100<')
    await page(t, '/vehicles?from=-1', t.cookie('desk'), 422)
  })

  test('nobody sees it without signing in', async () => {
    const t = await app()
    const reply = await t.app.inject('/vehicles')
    expect([reply.statusCode, reply.headers.location]).toEqual([303, '/login?next=%2Fvehicles'])
  })
})

describe('/vehicles/new', () => {
  test('adds a vehicle and its keeper in one form, once', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    const typed = {
      family: 'Pikko Tramp 300',
      plate: 'QH 077 VD',
      'customer[name]': 'Osk Brandl',
      'customer[phone]': '0555 014 771',
    }
    const { reply, fields } = await fillIn(t, cookie, '/vehicles/new', typed)
    expect(reply.statusCode).toBe(303)
    const id = String(reply.headers.location).split('/').at(-1) ?? ''
    const vehicle = vehicleById(t.system, id)
    expect(vehicle).toMatchObject({ plate: 'QH 077 VD', family: 'Pikko Tramp 300', odometer_unit: 'km' })
    expect(await page(t, `/customers/${vehicle.keeper_id}`, cookie)).toContain('Osk Brandl')
    const events = t.eventCount()
    const again = await sendForm(t, '/vehicles/new', cookie, fields)
    expect([again.headers.location, t.eventCount()]).toEqual([reply.headers.location, events])
  })

  test('a vehicle may come without a keeper, or for one who is known', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    const alone = await fillIn(t, cookie, '/vehicles/new', { family: 'Ardeck' })
    expect(alone.reply.statusCode).toBe(303)
    const { id } = bodil(t)
    const ask = `/vehicles/new?keeper_id=${id}&plate=QH%201`
    const known = await fillIn(t, cookie, '/vehicles/new', { family: 'Ardeck' }, ask)
    expect(vehicleById(t.system, String(known.reply.headers.location).split('/').at(-1)!)).toMatchObject({
      keeper_id: id,
      plate: 'QH 1',
    })
  })

  test('what is wrong comes back with everything as it was typed', async () => {
    const t = await app()
    const typed = { plate: 'QH 9', first_registered_on: '2031-02-30', 'customer[phone]': '0555' }
    const { reply } = await fillIn(t, t.cookie('desk'), '/vehicles/new', typed)
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('<title>Error: Add a vehicle')
    for (const field of ['family', 'first-registered-on', 'customer-name']) {
      expect(reply.body).toContain(`<a href="#${field}">`)
      expect(reply.body).toContain(`id="${field}"`)
    }
    for (const value of ['QH 9', '2031-02-30', '0555']) expect(reply.body).toContain(`value="${value}"`)
    expect(t.eventCount()).toBe(4)
  })

  test('what is odd about it is said after it is added', async () => {
    const t = await app()
    const cookie = t.cookie('technician')
    van(t)
    const { reply } = await fillIn(t, cookie, '/vehicles/new', { family: 'Ardeck', plate: 'qh418tk', _new: 'Ardeck' })
    expect(reply.statusCode).toBe(303)
    expect(await page(t, '/vehicles', cookie)).toContain('Another vehicle here has it too: QH 418 TK')
  })

  test('a technician is not asked for a customer, whom only the desk writes down', async () => {
    const t = await app()
    const cookie = t.cookie('technician')
    expect(await page(t, '/vehicles/new', cookie)).not.toContain('customer[name]')
    const { reply } = await fillIn(t, cookie, '/vehicles/new', { family: 'Ardeck', 'customer[name]': 'Osk' })
    expect(reply.statusCode).toBe(403)
  })
})

describe('/vehicles/:id/edit', () => {
  test('puts a vehicle right and takes out what came back empty', async () => {
    const t = await app()
    const { id } = van(t, { vin: 'X1', keeper_id: bodil(t).id })
    const { reply } = await fillIn(t, t.cookie('technician'), `/vehicles/${id}/edit`, {
      vin: '',
      plate: 'QH 419 TK',
      odometer_unit: 'mi',
    })
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `/vehicles/${id}`])
    const changed = vehicleById(t.system, id)
    expect(changed).toMatchObject({ plate: 'QH 419 TK', odometer_unit: 'mi', version: 2 })
    expect(changed).not.toHaveProperty('vin')
    expect(changed).toHaveProperty('keeper_id')
  })

  test('a form that somebody else overtook comes back with what was typed', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    const { id } = van(t)
    const url = `/vehicles/${id}/edit`
    const fields = formFields(await page(t, url, cookie), url)
    await fillIn(t, cookie, url, { plate: 'FIRST' })
    const late = await sendForm(t, url, cookie, Object.entries({ ...fields, plate: 'SECOND' }))
    expect(late.statusCode).toBe(412)
    expect(late.body).toContain('value="SECOND"')
    expect(vehicleById(t.system, id).plate).toBe('FIRST')
  })

  test('an unknown vehicle is no page', async () => {
    const t = await app()
    await page(t, '/vehicles/none/edit', t.cookie('desk'), 404)
    await page(t, '/vehicles/none/keeper', t.cookie('desk'), 404)
    await page(t, '/customers/none', t.cookie('desk'), 404)
  })
})

describe('/vehicles/:id/keeper', () => {
  test('takes somebody who is known, somebody new, or nobody', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    const { id } = van(t)
    const known = bodil(t).id
    const url = `/vehicles/${id}/keeper`
    await fillIn(t, cookie, url, { keeper: known }, `${url}?q=farrow`)
    expect(vehicleById(t.system, id).keeper_id).toBe(known)
    await fillIn(t, cookie, url, { 'customer[name]': 'Osk Brandl' })
    await fillIn(t, cookie, url, { keeper: 'nobody' })
    expect(keepersOfVehicle(t.system, id)).toHaveLength(3)
    expect(vehicleById(t.system, id)).not.toHaveProperty('keeper_id')
    expect(await page(t, url, cookie)).toContain('Osk Brandl')
  })

  test('nobody chosen, two at once, or an unknown one is said beside the choice', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    const url = `/vehicles/${van(t).id}/keeper`
    for (const typed of [{}, { keeper: 'nobody', 'customer[name]': 'Osk' }]) {
      const { reply } = await fillIn(t, cookie, url, typed)
      expect(reply.statusCode).toBe(422)
      expect(reply.body).toContain('<a href="#keeper">')
    }
    const { reply } = await fillIn(t, cookie, url, { keeper: 'none' })
    expect(reply.statusCode).toBe(422)
    await page(t, url, t.cookie('technician'), 403)
  })
})

describe('/customers/:id/edit', () => {
  test('puts a customer right', async () => {
    const t = await app()
    const { id } = bodil(t)
    const url = `/customers/${id}/edit`
    const { reply } = await fillIn(t, t.cookie('desk'), url, { phone: '', note: 'Rings early\r\nnever late' })
    expect(reply.headers.location).toBe(`/customers/${id}`)
    const html = await page(t, `/customers/${id}`, t.cookie('technician'))
    expect(html).toContain('Rings early\nnever late')
    expect(html).not.toContain('0555')
    const { reply: bad } = await fillIn(t, t.cookie('desk'), url, { name: '', email: 'at home' })
    expect(bad.statusCode).toBe(422)
    expect(bad.body).toContain('value="at home"')
    await page(t, url, t.cookie('technician'), 403)
  })
})
