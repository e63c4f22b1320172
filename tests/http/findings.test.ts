import { beforeEach, describe, expect, test } from 'vitest'
import { handBack } from '../../src/hand-back/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { addJob, authoriseAmount, type Job } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld
let job: Job

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
  job = addJob(w.desk, w.order, { operation_id: w.operations.bearing })
})

const post = (as: 'desk' | 'technician' | 'owner', path: string, body: object, more: object = {}) =>
  scenario(t, { as, post: `/api/${path}`, body, expect: 201, ...more })
const finding = (more: object = {}) => ({
  ...{
    vehicle_id: w.vehicle,
    component: 'Hub seal',
    failure_mode: 'weeping',
    severity: 'breakdown',
    found_on: '2031-03-03',
  },
  ...more,
})
const otherVehicle = () =>
  createVehicle(w.desk, { family: 'Pikko Tramp 300', plate: 'QH 077 VD', odometer_unit: 'km' }).id

describe('the lists of all vehicles', () => {
  test('page through findings and what was left for later without a vehicle, and by one', async () => {
    const other = otherVehicle()
    const found: string[] = []
    const left: string[] = []
    for (const vehicle_id of [w.vehicle, other, w.vehicle]) {
      found.unshift((await post('technician', 'findings', finding({ vehicle_id }))).body.id)
      left.push((await post('desk', 'left-for-later', { vehicle_id, text: 'Hub seal: replace' })).body.id)
    }
    const ids = async (path: string) => {
      const seen: string[] = []
      for (let cursor = ''; ; ) {
        const { body } = await scenario(t, { as: 'desk', get: `/api/${path}${cursor}`, expect: 200 })
        seen.push(...body.items.map((item: { id: string }) => item.id))
        if (body.next_cursor === null) return seen
        cursor = `&cursor=${encodeURIComponent(body.next_cursor)}`
      }
    }
    expect(await ids('findings?limit=2')).toEqual(found)
    expect(await ids('left-for-later?limit=2')).toEqual(left)
    expect(await ids(`findings?limit=1&vehicle_id=${w.vehicle}`)).toEqual([found[0], found[2]])
    expect(await ids(`left-for-later?limit=1&vehicle_id=${w.vehicle}`)).toEqual([left[0], left[2]])
    await scenario(t, { as: 'desk', get: '/api/findings?vehicle_id=nobody', expect: 404 })
  })
})

describe('POST /api/findings', () => {
  test('keeps what was seen, creates names that nobody has used, and is found on its vehicle', async () => {
    const { body, headers } = await post(
      'technician',
      'findings',
      finding({ failure_mode: 'scored', symptom: 'Oil on a wheel', job_id: job.id }),
      { events: 1 },
    )
    expect(body).toMatchObject({
      component: 'Hub seal',
      failure_mode: 'scored',
      symptom: 'Oil on a wheel',
      job_id: job.id,
    })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body).toEqual(body)
    const list = await scenario(t, { as: 'desk', get: `/api/findings?vehicle_id=${w.vehicle}`, expect: 200 })
    expect(list.body.items).toEqual([body])
    const { events } = (await scenario(t, { as: 'desk', get: `/api/vehicles/${w.vehicle}/history`, expect: 200 })).body
    expect(events).toContainEqual(
      expect.objectContaining({ event: 'failure', component: 'Hub seal', failure_mode: 'scored' }),
    )
  })

  test('names the earlier work that caused it, ours or others’, on the same vehicle only', async () => {
    const prior = await post('desk', `vehicles/${w.vehicle}/prior-works`, {
      operation: 'Axle shaft boot: replace',
      by: 'other',
      exactness: 'unknown',
    })
    const caused_by = { prior_work_id: prior.body.id }
    expect((await post('technician', 'findings', finding({ caused_by }))).body.caused_by).toEqual(caused_by)
    expect((await post('technician', 'findings', finding({ caused_by: { job_id: job.id } }))).body.caused_by).toEqual({
      job_id: job.id,
    })
    const vehicle_id = otherVehicle()
    await post('technician', 'findings', finding({ vehicle_id, caused_by }), {
      expect: 422,
      fields: ['/caused_by/prior_work_id'],
    })
    await post('technician', 'findings', finding({ vehicle_id, caused_by: { job_id: job.id } }), {
      expect: 422,
      fields: ['/caused_by/job_id'],
    })
    await post('technician', 'findings', finding({ vehicle_id, job_id: job.id }), { expect: 422, fields: ['/job_id'] })
  })

  test.each([
    ['an unknown vehicle', { vehicle_id: 'nobody' }, ['/vehicle_id']],
    ['a day that does not exist', { found_on: '2031-02-30' }, ['/found_on']],
    ['an unknown severity', { severity: 'bad' }, ['/severity']],
    ['limits that are not said', { advice: 'within_limits' }, ['/limits']],
    ['an empty component', { component: '' }, ['/component']],
    ['a member that nobody knows', { colour: 'red' }, ['/colour']],
  ])('refuses %s by its field', async (_, more, fields) => {
    await post('technician', 'findings', finding(more), { expect: 422, fields })
  })

  test('is a technician’s word', async () => {
    await post('desk', 'findings', finding(), { expect: 403 })
    await scenario(t, { as: 'desk', get: '/api/findings/nobody', expect: 404 })
  })
})

test('nothing was seen before there were vehicles', async () => {
  await post('technician', 'findings', finding({ found_on: '0031-03-03' }), { expect: 422, fields: ['/found_on'] })
})

describe('POST /api/vehicles/{id}/prior-works', () => {
  test.each([
    ['day', '2029-02-20', '2029-02-20'],
    ['month', '2029-02-20', '2029-02-15'],
    ['year', '2029-02-20', '2029-07-01'],
    ['unknown', undefined, undefined],
  ])('known to the %s it stands on its own rough day', async (exactness, on, stands) => {
    const body = { operation: 'Axle shaft boot: replace', by: 'owner', exactness, ...(on !== undefined && { on }) }
    expect((await post('desk', `vehicles/${w.vehicle}/prior-works`, body)).body.on).toBe(stands)
  })

  test('a day and how well it is known must go together', async () => {
    const work = { operation: 'Axle shaft boot: replace', by: 'other' }
    const url = `vehicles/${w.vehicle}/prior-works`
    await post('desk', url, { ...work, exactness: 'day' }, { expect: 422, fields: ['/on'] })
    await post(
      'desk',
      url,
      { ...work, exactness: 'unknown', on: '2029-01-01' },
      { expect: 422, fields: ['/exactness'] },
    )
    await post('desk', 'vehicles/nobody/prior-works', { ...work, exactness: 'unknown' }, { expect: 404 })
  })

  // today is 3 March 2031
  test.each([
    ['day', '2031-03-03', 201],
    ['day', '2031-03-04', 422],
    ['month', '2031-03-31', 201],
    ['month', '2031-04-01', 422],
    ['year', '2031-12-31', 201],
    ['year', '2032-01-01', 422],
    ['day', '1885-01-01', 201],
    ['day', '1884-12-31', 422],
    ['year', '0026-01-01', 422],
  ])('work known to the %s %s is %i: done, and since there are vehicles', async (exactness, on, status) => {
    const body = { operation: 'Axle shaft boot: replace', by: 'other', exactness, on }
    const fields = status === 422 ? { fields: ['/on'] } : {}
    await post('desk', `vehicles/${w.vehicle}/prior-works`, body, { expect: status, ...fields })
  })
})

describe('results of looks and final checks', () => {
  test('a look is fine, a finding, or left out with a reason; and only once', async () => {
    const url = `looks/${job.looks[0]!.id}/result`
    await post('technician', url, {}, { expect: 422 })
    await post('technician', url, { fine: true, skipped_reason: 'No time' }, { expect: 422 })
    await post('technician', url, { finding_id: 'nobody' }, { expect: 422, fields: ['/finding_id'] })
    await post('desk', url, { fine: true }, { expect: 403 })
    const { headers } = await post('technician', url, { fine: true })
    expect((await scenario(t, { as: 'desk', get: headers.location!, expect: 200 })).body.fine).toBe(true)
    await post('technician', url, { fine: true }, { expect: 409, problem: 'look-has-result' })
  })

  test('a look that safety hangs on only the owner may leave out', async () => {
    const url = `looks/${job.looks[0]!.id}/result`
    await post('technician', url, { skipped_reason: 'No time' }, { expect: 403 })
    expect((await post('owner', url, { skipped_reason: 'Looked at it yesterday myself' })).body).not.toHaveProperty(
      'fine',
    )
  })

  test('a final check that was not fine is done again, and the newest result counts', async () => {
    const url = `final-checks/${job.final_checks[0]!.id}/result`
    await post('technician', url, { fine: false })
    await post('technician', url, { fine: true })
    expect((await scenario(t, { as: 'desk', get: `/api/${url}`, expect: 200 })).body.fine).toBe(true)
    await post('technician', 'final-checks/nobody/result', { fine: true }, { expect: 404 })
  })

  test('nothing is written on an order that was handed back', async () => {
    const order = w.openOrder()
    const bulb = addJob(w.desk, order, { operation_id: w.operations.bulb })
    authoriseAmount(w.desk, order, { amount_minor: 100_000, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' })
    handBack(w.desk, order, {})
    await post(
      'technician',
      `jobs/${bulb.id}/tools-in`,
      { tool: 'pin' },
      { expect: 409, problem: 'work-order-handed-back' },
    )
  })
})

describe('/api/left-for-later', () => {
  test('is kept with its price, comes up on its vehicle, and is settled once by a job on it', async () => {
    const left = await post('desk', 'left-for-later', {
      vehicle_id: w.vehicle,
      text: 'Hub seal: replace',
      amount_minor: 26_880,
    })
    const url = `left-for-later/${left.body.id}/settlement`
    await post('desk', url, { job_id: 'nobody' }, { expect: 422, fields: ['/job_id'] })
    expect((await post('desk', url, { job_id: job.id })).body.settled_by_job_id).toBe(job.id)
    await post('desk', url, { job_id: job.id }, { expect: 409, problem: 'left-for-later-settled' })
    const list = await scenario(t, {
      as: 'technician',
      get: `/api/left-for-later?vehicle_id=${w.vehicle}`,
      expect: 200,
    })
    expect(list.body.items).toEqual([{ ...left.body, settled_by_job_id: job.id }])
    await post(
      'desk',
      'left-for-later',
      { vehicle_id: otherVehicle(), finding_id: 'nobody', text: 'x' },
      { expect: 422, fields: ['/finding_id'] },
    )
  })
})
