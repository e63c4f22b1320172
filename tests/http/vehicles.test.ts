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
const found = async (t: TestApp, q: string): Promise<string[]> => {
  const reply = await scenario(t, { as: 'technician', get: `/api/vehicles?q=${encodeURIComponent(q)}`, expect: 200 })
  return reply.body.items.map((item: { plate?: string; imported_as?: string }) => item.plate ?? item.imported_as)
}

describe('/api/customers', () => {
  test('a customer is added, read back and listed', async () => {
    const t = await app()
    const made = await customer(t)
    expect(made.body).toMatchObject({ ...BODIL, version: 1, created_at: '2031-03-03T08:00:00.000Z' })
    expect(made.body.created_by).toBe(t.as('desk').actor?.id)
    expect(made.body).not.toHaveProperty('address')
    expect(made.headers).toMatchObject({ location: `/api/customers/${made.body.id}`, etag: '"1"' })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'desk', get: '/api/customers', expect: 200 })
    expect(list.body).toEqual({ items: [made.body], next_cursor: null })
  })

  test('neither salt nor find key ever goes out', async () => {
    const t = await app()
    const made = await customer(t)
    expect(made.text).not.toMatch(/salt|find_key/)
  })

  test('each bad field is named, and nothing is written', async () => {
    const t = await app()
    const body = { name: '', phone: 5, email: 'not one', colour: 'blue' }
    const fields = ['/name', '/phone', '/email', '/colour']
    await scenario(t, { as: 'desk', post: '/api/customers', body, expect: 422, problem: 'invalid-input', fields })
    await scenario(t, { as: 'desk', post: '/api/customers', body: {}, expect: 422, fields: ['/name'] })
  })

  test('a technician may not, nor may somebody without a login', async () => {
    const t = await app()
    await scenario(t, {
      as: 'technician',
      post: '/api/customers',
      body: BODIL,
      expect: 403,
      problem: 'role-not-allowed',
    })
    await scenario(t, { as: null, post: '/api/customers', body: BODIL, expect: 401 })
    await scenario(t, { as: null, get: '/api/customers', expect: 401 })
  })

  test('a write without a key is refused; the same key and body answer the same; another body is refused', async () => {
    const t = await app()
    await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: null,
      expect: 400,
      problem: 'idempotency-key-missing',
    })
    const first = await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: 'k',
      expect: 201,
      events: 1,
    })
    const again = await scenario(t, {
      as: 'desk',
      post: '/api/customers',
      body: BODIL,
      key: 'k',
      expect: 201,
      events: 0,
    })
    expect(again.text).toBe(first.text)
    expect(again.headers.etag).toBe('"1"')
    await scenario(t, { as: 'desk', post: '/api/customers', body: VAN, key: 'k', expect: 422, problem: 'key-reused' })
  })

  test('a change needs the version that was read; null takes a field out', async () => {
    const t = await app()
    const { body } = await customer(t)
    const patch = `/api/customers/${body.id}`
    await scenario(t, { as: 'desk', patch, body: { note: 'Rings early' }, expect: 428, problem: 'if-match-missing' })
    const changed = await scenario(t, {
      as: 'desk',
      patch,
      body: { note: 'Rings early', phone: null },
      ifMatch: '"1"',
      expect: 200,
      events: 1,
    })
    expect(changed.body).toMatchObject({ name: BODIL.name, note: 'Rings early', version: 2 })
    expect(changed.body).not.toHaveProperty('phone')
    expect(changed.headers.etag).toBe('"2"')
    await scenario(t, { as: 'desk', patch, body: { note: 'x' }, ifMatch: '"1"', expect: 412, problem: 'stale-edit' })
    await scenario(t, { as: 'desk', patch, body: { name: null }, ifMatch: '"2"', expect: 422, fields: ['/name'] })
    await scenario(t, { as: 'technician', patch, body: { note: 'x' }, ifMatch: '"2"', expect: 403 })
  })

  test('an unknown id is 404', async () => {
    const t = await app()
    await scenario(t, { as: 'desk', get: '/api/customers/none', expect: 404, problem: 'not-found' })
    await scenario(t, { as: 'desk', patch: '/api/customers/none', body: {}, ifMatch: '"1"', expect: 404 })
  })

  test('they are found by name and telephone, and paged', async () => {
    const t = await app()
    for (const name of ['Zoë Ångström', 'Osk Brandl', 'Ann Brandl']) await customer(t, { name })
    const names = async (query: string) =>
      (await scenario(t, { as: 'desk', get: `/api/customers?${query}`, expect: 200 })).body
    expect((await names('q=zoe%20angstrom')).items.map((item: { name: string }) => item.name)).toEqual(['Zoë Ångström'])
    expect((await names('q=---')).items).toEqual([])
    const first = await names('limit=2')
    expect(first.items.map((item: { name: string }) => item.name)).toEqual(['Ann Brandl', 'Osk Brandl'])
    const second = await names(`limit=2&cursor=${first.next_cursor}`)
    expect(second.items.map((item: { name: string }) => item.name)).toEqual(['Zoë Ångström'])
    expect(second.next_cursor).toBeNull()
    await scenario(t, { as: 'desk', get: '/api/customers?limit=501', expect: 422, fields: ['/limit'] })
  })
})

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

describe('the one box', () => {
  async function fleet(t: TestApp): Promise<void> {
    const bodil = (await customer(t, { name: 'Bodil Fárrow', phone: '0555 014 220' })).body.id
    await vehicle(t, { ...VAN, keeper_id: bodil, frame_number: 'XC9HL1D95VR004418' })
    await vehicle(t, {
      family: 'Pikko Tramp 300',
      odometer_unit: 'km',
      plate: 'QH 077 VD',
      engine_number: 'TR-3/88 14',
    })
    await vehicle(t, { family: 'Ardeck', odometer_unit: 'mi', plate: 'QH 41', vin: '1M8GDM9AXKP042788' })
  }

  test.each([
    ['qh418tk', ['QH 418 TK']],
    ['QH-418-TK', ['QH 418 TK']],
    ['vr0044', ['QH 418 TK']],
    ['FARROW bodil', ['QH 418 TK']],
    ['0555-014', ['QH 418 TK']],
    ['tr388', ['QH 077 VD']],
    ['gdm9a', ['QH 41']],
    ['pikko', ['QH 077 VD']],
    ['qh', ['QH 41', 'QH 077 VD', 'QH 418 TK']],
    ['haulette tramp', []],
    ['%', []],
  ])('%s finds %j', async (q, plates) => {
    const t = await app()
    await fleet(t)
    expect(await found(t, q)).toEqual(plates)
  })

  test('what is called just so comes first', async () => {
    const t = await app()
    await vehicle(t, { ...VAN, plate: 'QH 41' })
    await vehicle(t, { ...VAN, plate: 'QH 418' })
    expect(await found(t, 'qh41')).toEqual(['QH 41', 'QH 418'])
  })

  test('an empty box lists all, page by page; a cursor that is none of ours is refused', async () => {
    const t = await app()
    await fleet(t)
    const first = await scenario(t, { as: 'desk', get: '/api/vehicles?limit=2', expect: 200 })
    expect(first.body.items.map((item: { plate: string }) => item.plate)).toEqual(['QH 41', 'QH 077 VD'])
    const rest = await scenario(t, {
      as: 'desk',
      get: `/api/vehicles?limit=2&cursor=${first.body.next_cursor}`,
      expect: 200,
    })
    expect(rest.body.items.map((item: { plate: string }) => item.plate)).toEqual(['QH 418 TK'])
    const cursor = Buffer.from('one').toString('base64url')
    await scenario(t, { as: 'desk', get: `/api/vehicles?cursor=${cursor}`, expect: 422, fields: ['/cursor'] })
  })
})

describe('/api/vehicles/:id/odometer-readings', () => {
  async function readings(t: TestApp, ...all: [string, number, boolean?][]): Promise<Reply[]> {
    const { body } = await vehicle(t)
    const replies: Reply[] = []
    for (const [on, distance_km, display_replaced] of all) {
      const sent = { on, distance_km, ...(display_replaced && { display_replaced }) }
      replies.push(
        await scenario(t, {
          as: 'technician',
          post: `/api/vehicles/${body.id}/odometer-readings`,
          body: sent,
          expect: 201,
          events: 1,
        }),
      )
    }
    return replies
  }

  test('a reading is recorded and read back', async () => {
    const t = await app()
    const [reply] = await readings(t, ['2031-06-02', 18_204])
    expect(reply!.body).toMatchObject({ on: '2031-06-02', distance_km: 18_204, display_replaced: false, warnings: [] })
    const read = await scenario(t, { as: 'desk', get: reply!.headers.location!, expect: 200 })
    expect(read.body).toEqual(reply!.body)
  })

  test('one lower than an earlier one warns, and so does one higher than a later one', async () => {
    const t = await app()
    const [, lower, higher] = await readings(t, ['2031-06-02', 18_204], ['2031-11-04', 17_950], ['2031-05-01', 19_000])
    expect(lower!.body.warnings).toEqual([
      {
        field: 'distance_km',
        detail:
          '17 950 km is lower than the 18 204 km of 2031-06-02. Correct it, or say that the instrument was replaced.',
      },
    ])
    expect(higher!.body.warnings).toMatchObject([
      { detail: expect.stringContaining('higher than the 17 950 km of 2031-11-04') },
    ])
  })

  test('a replaced instrument explains a lower one, and counts from there', async () => {
    const t = await app()
    const [, replaced, later] = await readings(
      t,
      ['2031-06-02', 98_204],
      ['2031-07-01', 12, true],
      ['2031-11-04', 4000],
    )
    expect(replaced!.body).toMatchObject({ display_replaced: true, warnings: [] })
    expect(later!.body.warnings).toEqual([])
  })

  test('a jump against the usual usage warns', async () => {
    const t = await app()
    const [, , usual, jump] = await readings(
      t,
      ['2030-01-01', 10_000],
      ['2030-07-01', 20_000],
      ['2031-01-01', 30_000],
      ['2031-02-01', 317_000],
    )
    expect(usual!.body.warnings).toEqual([])
    expect(jump!.body.warnings).toMatchObject([
      { field: 'distance_km', detail: expect.stringContaining('287 000 km in 31 days') },
    ])
  })

  test('bad input, wrong role and unknown vehicle', async () => {
    const t = await app()
    const { body } = await vehicle(t)
    const post = `/api/vehicles/${body.id}/odometer-readings`
    await scenario(t, {
      as: 'desk',
      post,
      body: { on: 'today', distance_km: -1 },
      expect: 422,
      fields: ['/on', '/distance_km'],
    })
    const good = { on: '2031-11-04', distance_km: 1 }
    await scenario(t, { as: 'desk', post: '/api/vehicles/none/odometer-readings', body: good, expect: 404 })
    await scenario(t, { as: 'desk', get: '/api/vehicles/none/odometer-readings', expect: 404 })
    await scenario(t, { as: 'desk', get: `${post}/none`, expect: 404 })
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
