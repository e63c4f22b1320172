import { describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

const app = eachTestItsApp()

const BODIL = { name: 'Bodil Farrow', phone: '0555 014 220', email: 'bodil@farrow.example' }
const VAN = { family: 'Corvane Haulette B', variant: 'long', plate: 'QH 418 TK', odometer_unit: 'km' }

const customer = (t: TestApp, body: object = BODIL): Promise<Reply> =>
  scenario(t, { as: 'desk', post: '/api/customers', body, expect: 201, events: 1 })
const vehicle = (t: TestApp, body: object = VAN): Promise<Reply> =>
  scenario(t, { as: 'desk', post: '/api/vehicles', body, expect: 201, events: 1 })
describe('/api/vehicles', () => {
  test('a vehicle is added with its keeper and makes its family and variant', async () => {
    const t = await app()
    const keeper_id = (await customer(t)).body.id
    const made = await vehicle(t, { ...VAN, keeper_id, frame_number: 'XC9HL1D95VR004418' })
    expect(made.body).toMatchObject({ ...VAN, keeper_id, version: 1, warnings: [] })
    expect(made.headers).toMatchObject({ location: `/api/vehicles/${made.body.id}`, etag: '"1"' })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const families = await scenario(t, { as: 'desk', get: '/api/families', expect: 200 })
    expect(families.body.items).toMatchObject([{ name: 'Corvane Haulette B' }])
    const keepers = await scenario(t, { as: 'desk', get: `${made.headers.location}/keepers`, expect: 200 })
    expect(keepers.body.items).toMatchObject([{ customer_id: keeper_id, vehicle_id: made.body.id }])
  })

  test('a family that differs in case only is the one there is', async () => {
    const t = await app()
    await vehicle(t)
    const second = await vehicle(t, { ...VAN, plate: 'QH 500 AA', family: 'CORVANE  haulette b', variant: 'Long' })
    expect(second.body).toMatchObject({ family: 'Corvane Haulette B', variant: 'long' })
    const families = await scenario(t, { as: 'desk', get: '/api/families', expect: 200 })
    expect(families.body.items).toHaveLength(1)
  })

  test('what is odd about a VIN warns and refuses nothing; only 17 characters are judged', async () => {
    const t = await app()
    // 49 CFR 565.15: the check digit of 1M8GDM9A_KP042788 is X
    const wrong = await vehicle(t, { ...VAN, vin: '1M8GDM9A1KP042788' })
    expect(wrong.body.warnings).toMatchObject([{ field: 'vin', detail: expect.stringContaining('would be X') }])
    const letter = await vehicle(t, { ...VAN, plate: 'A', vin: '1M8GDM9AXKPO42788' })
    expect(letter.body.warnings).toMatchObject([
      { field: 'vin', detail: expect.stringContaining('"O" stands in place 12') },
    ])
    const short = await vehicle(t, { ...VAN, plate: 'B', frame_number: 'PKT300O8814' })
    expect(short.body.warnings).toEqual([])
  })

  test('a registration that another vehicle has warns', async () => {
    const t = await app()
    await vehicle(t)
    const twice = await vehicle(t, { ...VAN, plate: 'qh418tk' })
    expect(twice.body.warnings).toMatchObject([{ field: 'plate', detail: expect.stringContaining('QH 418 TK') }])
  })

  test('each bad field is named', async () => {
    const t = await app()
    const body = { family: ' x ', odometer_unit: 'leagues', first_registered_on: '2031-02-30', plate: 'a\u0000b' }
    const fields = ['/family', '/odometer_unit', '/first_registered_on', '/plate']
    await scenario(t, { as: 'desk', post: '/api/vehicles', body, expect: 422, fields })
    await scenario(t, {
      as: 'desk',
      post: '/api/vehicles',
      body: { ...VAN, keeper_id: 'nobody' },
      expect: 422,
      fields: ['/keeper_id'],
    })
  })

  test('another keeper adds a dated row; the same one does not', async () => {
    const t = await app()
    const bodil = (await customer(t)).body.id
    const osk = (await customer(t, { name: 'Osk Brandl' })).body.id
    const { body } = await vehicle(t, { ...VAN, keeper_id: bodil })
    const patch = `/api/vehicles/${body.id}`
    t.clock.set(Date.UTC(2032, 0, 1))
    const sold = await scenario(t, {
      as: 'technician',
      patch,
      body: { keeper_id: osk },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(sold.body).toMatchObject({ keeper_id: osk, version: 2, plate: 'QH 418 TK' })
    await scenario(t, { as: 'technician', patch, body: { keeper_id: osk }, ifMatch: '"2"', expect: 200 })
    const gone = await scenario(t, { as: 'technician', patch, body: { keeper_id: null }, ifMatch: '"3"', expect: 200 })
    expect(gone.body).not.toHaveProperty('keeper_id')
    const keepers = await scenario(t, { as: 'desk', get: `${patch}/keepers`, expect: 200 })
    expect(keepers.body.items.map((item: { customer_id?: string }) => item.customer_id)).toEqual([
      undefined,
      osk,
      bodil,
    ])
    expect(keepers.body.items[1].created_at).toBe('2032-01-01T00:00:00.000Z')
  })

  test('a change needs the version; a stale one and an unknown id are refused', async () => {
    const t = await app()
    const { body } = await vehicle(t)
    const patch = `/api/vehicles/${body.id}`
    await scenario(t, { as: 'desk', patch, body: {}, expect: 428 })
    await scenario(t, { as: 'desk', patch, body: { plate: null }, ifMatch: '"1"', expect: 200 })
    await scenario(t, { as: 'desk', patch, body: { plate: 'X' }, ifMatch: '"1"', expect: 412 })
    await scenario(t, { as: 'desk', patch, body: { plate: 'X' }, ifMatch: '*', expect: 428 })
    await scenario(t, { as: 'desk', get: '/api/vehicles/none', expect: 404 })
    await scenario(t, { as: 'desk', get: '/api/vehicles/none/keepers', expect: 404 })
  })
})

describe('POST /api/vehicles/check-vin', () => {
  test('tells form, check digit and model years, without a key', async () => {
    const t = await app()
    // 49 CFR 565.15: 1M8GDM9AXKP042788 is the worked example of the check digit; K in place 10 is 1989 or 2019
    const body = { vin: '1M8GDM9AXKP042788' }
    const reply = await scenario(t, {
      as: 'technician',
      post: '/api/vehicles/check-vin',
      body,
      key: null,
      expect: 200,
      events: 0,
    })
    expect(reply.body).toEqual({
      valid_form: true,
      check_digit: { expected: 'X', actual: 'X', ok: true },
      model_years: [1989, 2019],
      decided: 1989,
    })
    await scenario(t, {
      as: 'desk',
      post: '/api/vehicles/check-vin',
      body: {},
      key: null,
      expect: 422,
      fields: ['/vin'],
    })
    await scenario(t, { as: null, post: '/api/vehicles/check-vin', body, key: null, expect: 401 })
  })
})
