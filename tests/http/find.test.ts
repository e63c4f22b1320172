import { beforeEach, describe, expect, test } from 'vitest'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { eraseCustomer } from '../../src/take-in/service/erasure.ts'
import { findInBox } from '../../src/take-in/service/find.ts'
import {
  createCustomer,
  createVehicle,
  findVehicles,
  listCustomers,
  updateVehicle,
  vehicleById,
} from '../../src/vehicles/index.ts'
import { updateCustomer } from '../../src/vehicles/service/customers.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'

const app = eachTestItsApp()
let t: TestApp
let bodil: string
let van: string

beforeEach(async () => {
  t = await app()
  bodil = createCustomer(t.system, { name: 'Bodil Farrow', phone: '0555 014 220' }).id
  van = createVehicle(t.system, {
    ...{ family: 'Corvane Haulette B', plate: 'QH 418 TK', vin: 'ZCV00000000143720', odometer_unit: 'km' },
    keeper_id: bodil,
  }).id
})

const found = (q: string) => findVehicles(t.system, q, 20).map(vehicle => vehicle.id)
const nearly = (q: string) => {
  const { vehicles, customers, nearly: isNearly } = findInBox(t.system, q)
  return isNearly ? [...vehicles, ...customers].map(hit => hit.id) : []
}

describe('the one box', () => {
  test.each(['qh418tk', 'QH-418', '18 t', 'zcv', '143720', 'Haulette', 'farr', 'Bodil', '014 220', 'farrow qh', 'QH'])(
    'finds by "%s"',
    q => expect(found(q)).toEqual([van]),
  )

  test.each(['tk418', 'zz', '1', 'farrowx', 'bodil marsh'])('finds nothing by "%s"', q => expect(found(q)).toEqual([]))

  test('what is called just so comes first, then the newest', () => {
    const [older, newer] = ['QH 418 TK 2', 'AQH 418 TK'].map(
      plate => createVehicle(t.system, { family: 'Pikko Tramp 125', plate, odometer_unit: 'km' }).id,
    )
    expect(found('QH 418 TK')).toEqual([van, newer, older])
  })

  test.each([
    ['a letter missing', 'Farow'],
    ['a letter too many', 'Farrrow'],
    ['a wrong letter', 'Forrow'],
    ['the first letter', 'Varrow'],
    ['two letters swapped', 'Farorw'],
    ['one of two words', 'bodli farrow'],
    ['a plate with blanks', 'QH 481 TK'],
    ['a figure of a VIN', 'ZCV00000000143721'],
    ['a telephone number', '0555 041 220'],
  ])('takes one typing error: %s', (_, q) => {
    expect(found(q)).toEqual([])
    expect(nearly(q)).toEqual([van])
  })

  test('takes no second error, none in three letters, and none where something is called just so', () => {
    expect(nearly('Forow')).toEqual([])
    expect(nearly('bodli farow')).toEqual([])
    expect(nearly('QHX')).toEqual([])
    expect(nearly('Farrow')).toEqual([])
  })

  test('says that nothing is called just so', async () => {
    createCustomer(t.system, { name: 'Edda Farrov' })
    const html = await page(t, '/?q=Farroq', t.cookie('desk'))
    expect(html).toContain('Nothing is called “Farroq”; this is nearly so')
    expect(html).toContain('QH 418 TK')
    expect(html).toContain('Edda Farrov')
  })
})

describe('what the box knows', () => {
  beforeEach(() => expect(found('Farrow')).toEqual([van]))

  test('follows another name, another plate and another keeper', () => {
    updateCustomer(t.system, bodil, 1, { name: 'Bodil Marsh' })
    expect([found('Farrow'), found('Marsh')]).toEqual([[], [van]])
    updateVehicle(t.system, van, vehicleById(t.system, van).version, { plate: 'QH 999 ZZ' })
    expect([found('418'), found('999zz'), found('marsh')]).toEqual([[], [van], [van]])
    const edda = createCustomer(t.system, { name: 'Edda Vane' }).id
    updateVehicle(t.system, van, vehicleById(t.system, van).version, { keeper_id: edda })
    expect([found('marsh'), found('vane')]).toEqual([[], [van]])
    const names = (q: string) => listCustomers(t.system, { q, limit: 5, after: null }).map(({ name }) => name)
    expect([names('bodil'), names('vane')]).toEqual([['Bodil Marsh'], ['Edda Vane']])
  })

  test('forgets a person who was erased', () => {
    eraseCustomer(t.system, bodil, 'Asked by letter')
    expect([found('Farrow'), found('418')]).toEqual([[], [van]])
  })

  test('loses nothing with a write that was undone', () => {
    const undone = () =>
      write(t.system, () => {
        createVehicle(t.system, { family: 'Corvane Tern', plate: 'QH 111 AA', odometer_unit: 'km' })
        expect(found('111 aa')).toHaveLength(1)
        throw new Error('undone')
      })
    expect(undone).toThrow('undone')
    expect([found('111 aa'), found('Farrow')]).toEqual([[], [van]])
  })
})
