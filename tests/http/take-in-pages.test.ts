import { beforeEach, describe, expect, test } from 'vitest'
import { leaveForLater, priorWorksOf } from '../../src/findings/index.ts'
import {
  createCustomer,
  createVehicle,
  customerById,
  odometerReadings,
  updateVehicle,
  vehicleById,
} from '../../src/vehicles/index.ts'
import { ordersInHouse, updateWorkOrder, workOrderById, writeTalk } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp, testApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { memoryStore } from '../support/database.ts'
import { fillIn, page } from '../support/forms.ts'
import { formFields, sendForm } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let cookie: string

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  cookie = t.cookie('desk')
})

const goes = async (url: string) => {
  const reply = await t.app.inject({ url, headers: { cookie } })
  return [reply.statusCode, reply.headers.location]
}
const scooter = (more: object = {}) =>
  createVehicle(t.system, { family: 'Pikko Tramp 300', plate: 'QH 077 VD', odometer_unit: 'km', ...more })

describe('/', () => {
  test('says of each vehicle what it waits for, late first', async () => {
    updateWorkOrder(w.desk, w.order, 1, { promised_on: '2031-03-05' })
    const late = w.openOrder({ vehicle_id: scooter().id, promised_on: '2031-03-01' })
    const html = await page(t, '/', t.cookie('technician'))
    expect(html.indexOf(`/work-orders/${late}`)).toBeLessThan(html.indexOf(`/work-orders/${w.order}`))
    expect(html).toContain('<strong>late: 1 Mar 2031</strong>')
    expect(html).toContain('One later than promised')
    expect(html).toContain('waits for a job: none is written down yet')
    expect(html).toContain('Corvane Haulette B')
    expect(html).toContain('Bodil Farrow')
  })

  test('before the first vehicle, says what makes an empty book useful', async () => {
    expect(await page(t, '/', cookie)).not.toContain('Nothing here yet')
    const empty = await testApp({ store: memoryStore() })
    const html = await page(empty, '/', empty.cookie('owner'))
    expect(html).toContain('Nothing here yet')
    expect(html).toContain('action="/take-in/new"')
    expect(html).toContain('A joint that nobody has touched yet')
    await empty.close()
  })

  test('the one box opens what is the only one', async () => {
    expect(await goes('/?q=2031-0001')).toEqual([303, `/work-orders/${w.order}`])
    expect(await goes('/?q=farrow')).toEqual([303, `/work-orders/${w.order}`])
    const other = scooter({ keeper_id: createCustomer(t.system, { name: 'Osk Brandl', phone: '0555 014 771' }).id })
    expect(await goes('/?q=771')).toEqual([303, `/vehicles/${other.id}`])
    const { id } = createCustomer(t.system, { name: 'Lenke Ravel' })
    expect(await goes('/?q=ravel')).toEqual([303, `/customers/${id}`])
    w.finish(w.order)
    expect(await goes('/?q=2031-0001')).toEqual([303, `/work-orders/${w.order}`])
  })

  test('answers “is mine ready?” in a sentence, with the last talk', async () => {
    updateWorkOrder(w.desk, w.order, 1, { promised_on: '2031-03-05' })
    writeTalk(w.desk, w.order, { with: 'Bodil Farrow', how: 'phone', said: 'Needs it early.', promised: 'ring her' })
    w.openOrder({ vehicle_id: scooter({ keeper_id: w.customer }).id })
    const html = await page(t, '/?q=farrow', cookie)
    expect(html).toContain(
      'not ready yet, it waits for a job: none is written down yet. Promised for Wednesday 5 March 2031.',
    )
    expect(html).toContain('Last said: 3 Mar 2031, 08:00 with Bodil Farrow: Needs it early; promised: ring her.')
    expect(await page(t, '/?q=%3Czz%3E', cookie)).toContain('Nothing here is called “&lt;zz&gt;”')
  })

  test('nobody sees it without signing in', async () => {
    const reply = await t.app.inject('/')
    expect([reply.statusCode, reply.headers.location]).toEqual([303, '/login?next=%2F'])
  })
})

describe('/take-in', () => {
  const form = (vehicle: string) => `/take-in?vehicle=${vehicle}`
  /** Two forms of the page go to this address: the one box, and the one that takes in. */
  const take = async (vehicle: string, typed: Record<string, string | string[]>, asked = form(vehicle)) => {
    const html = await page(t, asked, cookie)
    const shown = formFields(html.slice(html.indexOf('<form action="/take-in" method="post"')), '/take-in')
    const fields = Object.entries({ ...shown, ...typed }).flatMap(([name, value]) =>
      [value].flat().map((each): [string, string] => [name, each]),
    )
    return { reply: await sendForm(t, '/take-in', cookie, fields), fields }
  }

  test('finds the vehicle first; the only one leads to its form, a new one to the form for two', async () => {
    expect(await goes('/take-in?q=qh418')).toEqual([303, form(w.vehicle)])
    const { id } = createCustomer(t.system, { name: 'Lenke Ravel' })
    expect(await goes('/take-in?q=ravel')).toEqual([303, `/take-in/new?customer=${id}`])
    expect(await page(t, '/take-in?q=QH%209', cookie)).toContain('/take-in/new?plate&#x3D;QH+9')
    await page(t, form('none'), cookie, 404)
    await page(t, '/take-in', t.cookie('technician'), 403)
  })

  test('takes in with what others did to it, in one go and once', async () => {
    const vehicle = scooter({ odometer_unit: 'mi', keeper_id: w.customer })
    const { reply, fields } = await take(vehicle.id, {
      complaint: 'It stalls.',
      'symptoms[0]': 'Stalls when hot',
      'symptoms[1]': 'smell of petrol',
      odometer: '10 000',
      promised_on: '2031-03-06',
      arrived: 'towed',
      damage: 'Mirror cracked',
      fuel: 'A quarter',
      keys: 'Two, red tag',
      belongings: 'Bread trays',
      old_parts: 'give_back',
      arrival_note: 'No lamps',
      'prior_works[0][operation]': 'Carburettor: clean',
      'prior_works[0][by]': 'owner',
      'prior_works[0][when]': '2030-08',
      _new: ['Stalls when hot', 'smell of petrol', 'Carburettor: clean'],
    })
    expect(reply.statusCode).toBe(303)
    const id = String(reply.headers.location).split('/').at(-1)!
    expect(workOrderById(t.system, id)).toMatchObject({
      ...{ vehicle_id: vehicle.id, customer_id: w.customer, complaint: 'It stalls.', arrived: 'towed' },
      ...{ symptoms: ['Stalls when hot', 'smell of petrol'], promised_on: '2031-03-06', odometer_km: 16_093.44 },
    })
    expect(odometerReadings(t.system, vehicle.id)).toMatchObject([{ on: '2031-03-03', distance_km: 16_093.44 }])
    expect(priorWorksOf(t.system, vehicle.id)).toMatchObject([
      { operation: 'Carburettor: clean', by: 'owner', on: '2030-08-15', exactness: 'month' },
    ])
    const sheet = await page(t, `/work-orders/${id}`, cookie)
    expect(sheet).toContain('Taken in as 2031-0002.')
    expect(sheet).toContain('It was towed here. Mirror cracked. Fuel: A quarter. No lamps.')
    // what was left with it comes up again before it goes
    const said = (html: string) => html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
    const back = said(await page(t, `/work-orders/${id}/hand-back`, cookie))
    for (const words of ['Keys Two, red tag', 'Left inside Bread trays', 'Replaced parts the customer wants them']) {
      expect(said(sheet)).toContain(words)
      expect(back).toContain(words)
    }
    const events = t.eventCount()
    expect((await sendForm(t, '/take-in', cookie, fields)).headers.location).toBe(reply.headers.location)
    expect(t.eventCount()).toBe(events)
  })

  test('a fault in any field comes back beside it, with everything as it was typed, and nothing is written', async () => {
    const { id } = scooter({ keeper_id: w.customer })
    const typed = {
      'symptoms[1]': 'Rattle',
      odometer: 'plenty',
      'prior_works[0][operation]': 'Clutch: renew',
      'prior_works[0][when]': 'last spring',
      _new: ['Rattle', 'Clutch: renew'],
    }
    const events = t.eventCount()
    const first = (await take(id, typed)).reply
    expect(first.statusCode).toBe(422)
    expect(first.body).toContain('href="#complaint"')
    expect(first.body).toContain('href="#odometer"')
    for (const value of ['Rattle', 'plenty', 'Clutch: renew', 'last spring'])
      expect(first.body).toContain(`value="${value}"`)
    const second = (await take(id, { ...typed, complaint: 'It rattles.', odometer: '5' })).reply
    expect(second.statusCode).toBe(422)
    expect(second.body).toContain('href="#prior-works-0-when"')
    expect(second.body).toContain('Write a day, a month or a year')
    expect(second.body).toContain('It rattles.</textarea>')
    expect([t.eventCount(), ordersInHouse(t.system).length]).toEqual([events, 1])
  })

  test('somebody new may bring it and keep it; somebody must', async () => {
    const { id } = scooter()
    const nobody = (
      await take(id, {
        complaint: 'It stalls.',
        'prior_works[0][operation]': 'Belt',
        'prior_works[0][when]': 'once',
        _new: ['Belt'],
      })
    ).reply
    expect(nobody.statusCode).toBe(422)
    // all that is missing is said at once
    for (const name of ['customer-name', 'odometer', 'prior-works-0-when'])
      expect(nobody.body).toContain(`href="#${name}"`)
    const both = { complaint: 'It stalls.', customer_id: w.customer, 'customer[name]': 'Osk Brandl' }
    expect((await take(id, both)).reply.statusCode).toBe(422)
    const { reply } = await take(id, {
      complaint: 'It stalls.',
      'customer[name]': 'Osk Brandl',
      'customer[phone]': '0555',
      odometer_unread: 'Display dark',
    })
    expect(reply.statusCode).toBe(303)
    const keeper = customerById(t.system, String(vehicleById(t.system, id).keeper_id))
    expect(keeper).toMatchObject({ name: 'Osk Brandl', phone: '0555' })
  })

  test('somebody else in the book is found and chosen, and the keeper stays', async () => {
    const { id } = scooter({ keeper_id: w.customer })
    const other = createCustomer(t.system, { name: 'Lenke Ravel' })
    const asked = `${form(id)}&customer=${other.id}`
    expect(await page(t, `${form(id)}&who=lenke`, cookie)).toContain(
      asked.replaceAll('&', '&amp;').replaceAll('=', '&#x3D;'),
    )
    const { reply } = await take(id, { complaint: 'It stalls.', odometer: '4000' }, asked)
    const order = workOrderById(t.system, String(reply.headers.location).split('/').at(-1)!)
    expect([order.customer_id, vehicleById(t.system, id).keeper_id]).toEqual([other.id, w.customer])
  })

  test('a vehicle that is here already is not taken in twice by accident', async () => {
    updateVehicle(t.system, w.vehicle, 1, { keeper_id: w.customer })
    expect(await page(t, form(w.vehicle), cookie)).toContain('This vehicle is in the house on')
    const { reply } = await take(w.vehicle, { complaint: 'And it squeaks.' })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('on work order 2031-0001. Write it there, or tick')
    const again = await take(w.vehicle, { complaint: 'And it squeaks.', second_stay: 'true', odometer: '143900' })
    expect(again.reply.statusCode).toBe(303)
    expect(ordersInHouse(t.system)).toHaveLength(2)
  })

  test('says what the record says before anything is written, and keeps a draft', async () => {
    w.finish(w.order)
    leaveForLater(w.desk, { vehicle_id: w.vehicle, text: 'Hub seal: replace' })
    t.clock.set(t.clock.now() + 41 * 86_400_000)
    cookie = t.cookie('desk')
    const html = await page(t, form(w.vehicle), cookie)
    expect(html).toContain(
      'Our work “Rear lamp bulb: replace” (work order 2031-0001) is under warranty to 2 March 2032',
    )
    expect(html).toContain('Left for later on 3 March 2031: hub seal: replace.')
    expect(html).toContain(`data-draft="take-in ${w.vehicle}"`)
    expect(html).not.toMatch(/were comebacks|chance/i)
  })
})

describe('/take-in/new', () => {
  test('adds vehicle and customer, and goes on to what the customer says', async () => {
    const typed = { family: 'Ardeck 650', 'customer[name]': 'Osk Brandl', _new: 'Ardeck 650' }
    const { reply } = await fillIn(t, cookie, '/take-in/new', typed, '/take-in/new?plate=QH%201')
    const to = String(reply.headers.location)
    const vehicle = vehicleById(t.system, to.replace('/take-in?vehicle=', ''))
    expect(vehicle).toMatchObject({ plate: 'QH 1', family: 'Ardeck 650' })
    expect(await page(t, to, cookie)).toContain('Osk Brandl')
    const known = createCustomer(t.system, { name: 'Lenke Ravel' }).id
    const second = await fillIn(t, cookie, '/take-in/new', { family: 'ardeck 650' }, `/take-in/new?customer=${known}`)
    const newcomer = String(second.reply.headers.location).replace('/take-in?vehicle=', '')
    expect(vehicleById(t.system, newcomer).keeper_id).toBe(known)
  })

  test('asks before it writes a second vehicle or person, with the way to go on with the one in the book', async () => {
    const known = createCustomer(t.system, { name: 'Lenke Ravel', phone: '0555 014' }).id
    const typed = {
      family: 'Corvane Haulette B',
      plate: 'qh-418-tk',
      'customer[name]': 'L. Ravel',
      'customer[phone]': '0555014',
    }
    const events = t.eventCount()
    const { reply } = await fillIn(t, cookie, '/take-in/new', typed)
    expect([reply.statusCode, t.eventCount()]).toEqual([422, events])
    expect(reply.body).toContain('In the book already: QH 418 TK, Corvane Haulette B.')
    expect(reply.body).toContain('In the book already: Lenke Ravel, 0555 014.')
    expect(reply.body).toContain(`/take-in?vehicle&#x3D;${w.vehicle}`)
    expect(reply.body).toContain(`/take-in/new?plate&#x3D;qh-418-tk&amp;customer&#x3D;${known}`)
    expect(reply.body).toContain('value="qh-418-tk"')
    const twin = await fillIn(t, cookie, '/take-in/new', { ...typed, another_vehicle: 'true', another_person: 'true' })
    expect(await page(t, String(twin.reply.headers.location), cookie)).toContain('Another vehicle here has it too')
  })

  test('refuses a vehicle without family', async () => {
    const { reply } = await fillIn(t, cookie, '/take-in/new', { plate: 'QH 2' })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('value="QH 2"')
    await page(t, '/take-in/new', t.cookie('technician'), 403)
  })
})
