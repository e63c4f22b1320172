import { describe, expect, test } from 'vitest'
import { recordEvent } from '../../src/platform/database/events.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { ensureFamily, ensureImportedVehicle } from '../../src/vehicles/index.ts'
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

test('a vehicle of an imported history is found by what the history called it, and by its family', async () => {
  const t = await app()
  write(t.system, tx => {
    const imported = {
      imported_as: 'Wagen 17/b',
      family_id: ensureFamily(t.system, tx, 'Ardeck'),
      first_registered_on: null,
    }
    const id = ensureImportedVehicle(t.system, tx, imported)
    expect(ensureImportedVehicle(t.system, tx, imported)).toBe(id)
    recordEvent(t.system, tx, { action: 'test.made', table: 'vehicles', id })
  })
  expect(await found(t, 'wagen17b')).toEqual(['Wagen 17/b'])
  expect(await found(t, 'ardeck wagen')).toEqual(['Wagen 17/b'])
})
