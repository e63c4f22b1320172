import { describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { wrenchesForTarget, wrenchState } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

const app = eachTestItsApp()

const W11 = { name: 'W-11', kind: 'measures', min_nm: 10, max_nm: 100, class: 'II A' }
const CERTIFICATE = {
  made_on: '2031-01-15',
  certificate: 'K 31-0042',
  found: 'good',
  points: [
    { at_nm: 20, uncertainty_nm: 0.4 },
    { at_nm: 100, uncertainty_nm: 2 },
  ],
}

const wrench = (t: TestApp, body: object = W11): Promise<Reply> =>
  scenario(t, { as: 'owner', post: '/api/wrenches', body, expect: 201, events: 1 })
const calibrate = (t: TestApp, id: string, more: object = {}): Promise<Reply> =>
  scenario(t, {
    as: 'technician',
    post: `/api/wrenches/${id}/calibrations`,
    body: { ...CERTIFICATE, ...more },
    expect: 201,
    events: 1,
  })
const withdraw = (t: TestApp, id: string, at: string): Promise<Reply> =>
  scenario(t, {
    as: 'technician',
    post: `/api/wrenches/${id}/withdrawals`,
    body: { at, reason: 'Dropped' },
    expect: 201,
    events: 1,
  })
const today = async (t: TestApp, id: string) => {
  const { body } = await scenario(t, { as: 'desk', get: `/api/wrenches/${id}`, expect: 200 })
  return { due_on: body.due_on, trouble: body.trouble }
}

describe('/api/wrenches', () => {
  test('a wrench is registered, read back and listed', async () => {
    const t = await app()
    const made = await wrench(t, { ...W11, scale_division_nm: 0.5 })
    expect(made.body).toMatchObject({ ...W11, scale_division_nm: 0.5, version: 1, due_on: '2032-03-03', trouble: [] })
    const read = await scenario(t, { as: 'technician', get: made.headers.location!, expect: 200 })
    expect(read.body).toEqual(made.body)
    const list = await scenario(t, { as: 'technician', get: '/api/wrenches', expect: 200 })
    expect(list.body.items).toEqual([made.body])
  })

  test('one without certificate and class may not be used', async () => {
    const t = await app()
    const { class: _, ...bare } = W11
    const { body } = await wrench(t, bare)
    expect(body).not.toHaveProperty('due_on')
    expect(body.trouble).toEqual(['never_calibrated'])
  })

  test('a class that is none of the standard’s stays as it was written, and gives no number', async () => {
    const t = await app()
    const { body } = await wrench(t, { ...W11, class: 'first class' })
    expect(body).toMatchObject({ class: 'first class', trouble: ['never_calibrated'] })
    expect(body).not.toHaveProperty('due_on')
    expect(wrenchState(t.system, body.id, '2031-03-03')?.uncertaintyAt(50)).toBeNull()
  })

  test('the workshop’s own rule says until when, in months and in cycles', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    await calibrate(t, id)
    patchSettings(t.system, { calibration_months: 1, calibration_cycles: 10 }, 0)
    expect(await today(t, id)).toEqual({ due_on: '2031-02-15', trouble: ['calibration_overdue'] })
    expect(wrenchState(t.system, id, '2031-02-01', () => 9)?.left).toEqual({ days: 14, cycles: 1, soon: true })
    expect(wrenchState(t.system, id, '2031-02-01', () => 10)).toMatchObject({ trouble: ['cycles_used_up'], left: null })
    const wanted = { target: 60, lower: 57, upper: 63, on: '2031-02-16' }
    expect(wrenchesForTarget(t.system, wanted).out).toMatchObject([{ because: ['calibration_overdue'] }])
  })

  test('bad input, wrong role, a name that is taken, unknown id', async () => {
    const t = await app()
    const bad = { name: 'x', kind: 'bends', min_nm: -1, max_nm: 'much' }
    await scenario(t, {
      as: 'owner',
      post: '/api/wrenches',
      body: bad,
      expect: 422,
      fields: ['/kind', '/min_nm', '/max_nm'],
    })
    await scenario(t, {
      as: 'owner',
      post: '/api/wrenches',
      body: { ...W11, min_nm: 100 },
      expect: 422,
      fields: ['/max_nm'],
    })
    const absurd = { ...W11, max_nm: 9000, length_mm: 0 }
    await scenario(t, {
      as: 'owner',
      post: '/api/wrenches',
      body: absurd,
      expect: 422,
      fields: ['/max_nm', '/length_mm'],
    })
    const coarse = { ...W11, scale_division_nm: 100 }
    await scenario(t, { as: 'owner', post: '/api/wrenches', body: coarse, expect: 422, fields: ['/scale_division_nm'] })
    await scenario(t, { as: 'technician', post: '/api/wrenches', body: W11, expect: 403 })
    await wrench(t)
    await scenario(t, {
      as: 'owner',
      post: '/api/wrenches',
      body: { ...W11, name: 'w-11' },
      expect: 409,
      fields: ['/name'],
    })
    await scenario(t, { as: 'desk', get: '/api/wrenches/none', expect: 404 })
  })

  test('a change needs the version that was read', async () => {
    const t = await app()
    const patch = (await wrench(t)).headers.location!
    await scenario(t, { as: 'owner', patch, body: { max_nm: 120 }, expect: 428 })
    const changed = await scenario(t, {
      as: 'owner',
      patch,
      body: { max_nm: 120, class: null },
      ifMatch: '"1"',
      expect: 200,
    })
    expect(changed.body).toMatchObject({ max_nm: 120, version: 2 })
    expect(changed.body).not.toHaveProperty('class')
    await scenario(t, { as: 'owner', patch, body: { max_nm: 5 }, ifMatch: '"2"', expect: 422, fields: ['/max_nm'] })
    await scenario(t, { as: 'owner', patch, body: {}, ifMatch: '"1"', expect: 412 })
  })
})

describe('/api/wrenches/:id/calibrations', () => {
  test('a certificate is recorded, read back, and says until when', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    const made = await calibrate(t, id)
    expect(made.body).toMatchObject({ ...CERTIFICATE, wrench_id: id })
    expect((await scenario(t, { as: 'desk', get: made.headers.location!, expect: 200 })).body).toEqual(made.body)
    const list = await scenario(t, { as: 'desk', get: `/api/wrenches/${id}/calibrations`, expect: 200 })
    expect(list.body.items).toEqual([made.body])
    expect(await today(t, id)).toEqual({ due_on: '2032-01-15', trouble: [] })
    t.clock.set(Date.UTC(2032, 0, 15, 23))
    expect((await today(t, id)).trouble).toEqual([])
    t.clock.set(Date.UTC(2032, 0, 16, 1))
    expect((await today(t, id)).trouble).toEqual(['calibration_overdue'])
  })

  test('a certificate may be older than the register, and say what the reference showed', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    const points = [{ at_nm: 50, uncertainty_nm: 1, reference_nm: 47 }]
    const made = await calibrate(t, id, { made_on: '2019-05-02', points })
    expect(made.body).toMatchObject({ made_on: '2019-05-02', points })
    expect((await today(t, id)).trouble).toEqual(['calibration_overdue'])
  })

  test('one that was found outside may not be used', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    await calibrate(t, id, { found: 'outside', points: [] })
    expect(await today(t, id)).toEqual({ due_on: undefined, trouble: ['found_outside'] })
  })

  test('bad input, wrong role, unknown wrench', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    const post = `/api/wrenches/${id}/calibrations`
    const twice = { ...CERTIFICATE, points: [...CERTIFICATE.points, CERTIFICATE.points[0]] }
    await scenario(t, { as: 'technician', post, body: twice, expect: 422, fields: ['/points/2/at_nm'] })
    await scenario(t, {
      as: 'technician',
      post,
      body: { ...CERTIFICATE, made_on: '2031-03-05' },
      expect: 422,
      fields: ['/made_on'],
    })
    const slips = {
      ...CERTIFICATE,
      points: [
        { at_nm: 80, uncertainty_nm: 80 },
        { at_nm: 50, uncertainty_nm: 10.1 },
        { at_nm: 201, uncertainty_nm: 2 },
        { at_nm: 4.9, uncertainty_nm: 0.1 },
        { at_nm: 60, uncertainty_nm: 1, reference_nm: 6 },
        { at_nm: 200, uncertainty_nm: 40, reference_nm: 190 },
      ],
    }
    const { body } = await scenario(t, {
      as: 'technician',
      post,
      body: slips,
      expect: 422,
      fields: [
        '/points/0/uncertainty_nm',
        '/points/1/uncertainty_nm',
        '/points/2/at_nm',
        '/points/3/at_nm',
        '/points/4/reference_nm',
      ],
    })
    expect(body.errors[0].detail).toContain('U = 80 N·m at 80 N·m is 100 % of the value')
    const bad = { made_on: '15.1.2031', certificate: '', found: 'fine', points: [{ at_nm: 0, uncertainty_nm: -1 }] }
    const fields = ['/made_on', '/certificate', '/found', '/points/0/at_nm', '/points/0/uncertainty_nm']
    await scenario(t, { as: 'technician', post, body: bad, expect: 422, fields })
    await scenario(t, { as: 'desk', post, body: CERTIFICATE, expect: 403 })
    await scenario(t, { as: 'technician', post: '/api/wrenches/none/calibrations', body: CERTIFICATE, expect: 404 })
    await scenario(t, { as: 'desk', get: '/api/wrenches/none/calibrations', expect: 404 })
    await scenario(t, { as: 'desk', get: `${post}/none`, expect: 404 })
  })
})

describe('/api/wrenches/:id/withdrawals', () => {
  test('a wrench is out of use until a good calibration after it', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    await calibrate(t, id)
    const made = await withdraw(t, id, '2031-03-02T10:00:00.000Z')
    expect(made.body).toMatchObject({ at: '2031-03-02T10:00:00.000Z', reason: 'Dropped', wrench_id: id })
    expect((await scenario(t, { as: 'desk', get: made.headers.location!, expect: 200 })).body).toEqual(made.body)
    expect((await today(t, id)).trouble).toEqual(['withdrawn'])
    await calibrate(t, id, { made_on: '2031-03-03' })
    expect((await today(t, id)).trouble).toEqual([])
    // entered late: it lies before a certificate that was good
    await withdraw(t, id, '2031-02-20T10:00:00.000Z')
    expect((await today(t, id)).trouble).toEqual([])
  })

  test('bad input, wrong role, unknown wrench', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    const post = `/api/wrenches/${id}/withdrawals`
    await scenario(t, { as: 'technician', post, body: { at: 'now' }, expect: 422, fields: ['/at', '/reason'] })
    const future = { at: '2031-03-03T08:11:00.000Z', reason: 'x' }
    await scenario(t, { as: 'technician', post, body: future, expect: 422, fields: ['/at'] })
    const good = { at: '2031-03-03T08:09:00.000Z', reason: 'x' }
    await scenario(t, { as: 'desk', post, body: good, expect: 403 })
    await scenario(t, { as: 'owner', post, body: good, expect: 201 })
    await scenario(t, { as: 'owner', post: '/api/wrenches/none/withdrawals', body: good, expect: 404 })
    await scenario(t, { as: 'owner', get: `${post}/none`, expect: 404 })
  })
})

describe('wrenchesForTarget', () => {
  test('the usable ones by uncertainty, each other with its reasons, and whether any can prove the tolerance', async () => {
    const t = await app()
    const fine = (await wrench(t)).body.id
    await calibrate(t, fine)
    const coarse = (await wrench(t, { ...W11, name: 'W-12' })).body.id
    const small = (await wrench(t, { ...W11, name: 'W-13', min_nm: 2, max_nm: 25 })).body.id
    const wanted = { target: 60, lower: 57, upper: 63, on: '2031-03-03' }
    const choice = wrenchesForTarget(t.system, wanted)
    // the certificate's line from 0.4 at 20 to 2 at 100 stands at 1.2 for 60; the class is 4 % of 60
    const best = choice.best_first.map(({ wrench: { id }, ...rest }) => ({ id, ...rest }))
    expect(best).toMatchObject([
      { id: fine, uncertainty_nm: expect.closeTo(1.2, 9), proves_tolerance: true },
      { id: coarse, uncertainty_nm: expect.closeTo(2.4, 9), proves_tolerance: true },
    ])
    expect(choice.out.map(({ wrench: { id }, because }) => ({ id, because }))).toEqual([
      { id: small, because: ['above_its_range'] },
    ])
    expect(wrenchesForTarget(t.system, { ...wanted, lower: 59.5, upper: 60.5 }).can_be_proved).toBe(false)
  })

  test('cycles are counted since the certificate, by whoever knows them', async () => {
    const t = await app()
    const { id } = (await wrench(t)).body
    await calibrate(t, id)
    const asked: [string, string][] = []
    const state = wrenchState(t.system, id, '2031-03-03', (wrenchId, since) => {
      asked.push([wrenchId, since])
      return 5000
    })
    expect(asked).toEqual([[id, '2031-01-15']])
    expect(state?.trouble).toEqual(['cycles_used_up'])
    expect(state?.uncertaintyAt(200)).toBe(2)
    expect(wrenchState(t.system, 'none', '2031-03-03')).toBeUndefined()
  })
})
