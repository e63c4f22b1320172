import { describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { gaugeById, gaugeFacts, gaugesForAngle, recordGaugeCheck, registerGauge } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

const G1 = { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: 1.5 }
const CHECK = { made_on: '2031-03-01', certificate: 'Dividing head', found: 'good' }

const gauge = (t: TestApp, body: object = G1) =>
  scenario(t, { as: 'owner', post: '/api/gauges', body, expect: 201, events: 1 })
const checked = (t: TestApp, id: string, more: object = {}) =>
  scenario(t, {
    as: 'technician',
    post: `/api/gauges/${id}/checks`,
    body: { ...CHECK, ...more },
    expect: 201,
    events: 1,
  })

describe('/api/gauges', () => {
  test('a gauge is registered, read back, listed and changed', async () => {
    const t = await app()
    const made = await gauge(t)
    expect(made.body).toMatchObject({ ...G1, version: 1, trouble: [] })
    const patch = made.headers.location!
    expect((await scenario(t, { as: 'desk', get: patch, expect: 200 })).body).toEqual(made.body)
    expect((await scenario(t, { as: 'desk', get: '/api/gauges', expect: 200 })).body.items).toEqual([made.body])
    await scenario(t, { as: 'owner', patch, body: { uncertainty_deg: 2 }, expect: 428 })
    const changed = await scenario(t, {
      as: 'owner',
      patch,
      body: { uncertainty_deg: null },
      ifMatch: '"1"',
      expect: 200,
    })
    expect(changed.body).not.toHaveProperty('uncertainty_deg')
    await scenario(t, { as: 'owner', patch, body: {}, ifMatch: '"1"', expect: 412 })
  })

  test('bad input, wrong role, a name that is taken, unknown id', async () => {
    const t = await app()
    const bad = { name: '', kind: 'compass', uncertainty_deg: 90 }
    const fields = ['/name', '/kind', '/uncertainty_deg']
    await scenario(t, { as: 'owner', post: '/api/gauges', body: bad, expect: 422, fields })
    await scenario(t, { as: 'technician', post: '/api/gauges', body: G1, expect: 403 })
    const { id } = (await gauge(t)).body
    await scenario(t, {
      as: 'owner',
      post: '/api/gauges',
      body: { ...G1, name: 'g-1' },
      expect: 409,
      fields: ['/name'],
    })
    await scenario(t, { as: 'desk', get: '/api/gauges/none', expect: 404 })
    const post = `/api/gauges/${id}/checks`
    await scenario(t, { as: 'desk', post, body: CHECK, expect: 403 })
    const later = { ...CHECK, made_on: '2031-04-01' }
    await scenario(t, { as: 'technician', post, body: later, expect: 422, fields: ['/made_on'] })
    await scenario(t, { as: 'technician', post: '/api/gauges/none/checks', body: CHECK, expect: 404 })
    await scenario(t, { as: 'technician', get: '/api/gauges/none/checks', expect: 404 })
  })

  test('one found outside is out until a later check is good; each check can be read', async () => {
    const t = await app()
    const { id } = (await gauge(t)).body
    const made = await checked(t, id, { found: 'outside' })
    expect((await scenario(t, { as: 'desk', get: made.headers.location!, expect: 200 })).body).toEqual(made.body)
    const now = async () => (await scenario(t, { as: 'desk', get: `/api/gauges/${id}`, expect: 200 })).body
    expect(await now()).toMatchObject({ checked_on: '2031-03-01', trouble: ['found_outside'] })
    await checked(t, id, { made_on: '2031-03-02' })
    expect(await now()).toMatchObject({ checked_on: '2031-03-02', trouble: [] })
  })
})

describe('what an angle is read from', () => {
  test('the settings count while the shop has no gauge in its register', async () => {
    const t = await app()
    patchSettings(t.system, { gauge_uncertainty_deg: 3 }, 0)
    expect(gaugesForAngle(t.system, '2031-03-03')).toEqual({ best_first: [], out: [], setting_deg: 3 })
  })

  test('the surest first, a paint mark by the settings, and each other with its reason', async () => {
    const t = await app()
    const fine = registerGauge(t.system, { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: 1 }).id
    registerGauge(t.system, { name: 'G-2', kind: 'angle_gauge' })
    registerGauge(t.system, { name: 'Paint', kind: 'paint_mark' })
    const { best_first, out, setting_deg } = gaugesForAngle(t.system, '2031-03-03')
    expect(best_first.map(({ name, uncertainty_deg }) => [name, uncertainty_deg])).toEqual([
      ['G-1', 1],
      ['G-2', 2],
      ['Paint', 5],
    ])
    expect([out, setting_deg]).toEqual([[], null])
    recordGaugeCheck(t.as('technician'), fine, {
      made_on: '2031-03-02',
      certificate: 'Dividing head',
      found: 'outside',
    })
    expect(gaugeFacts(t.system, fine, '2031-03-03')).toEqual({
      id: fine,
      name: 'G-1',
      kind: 'angle_gauge',
      uncertainty_deg: null,
    })
    expect(gaugeFacts(t.system, fine, '2031-03-01')?.uncertainty_deg).toBe(1)
    expect(gaugesForAngle(t.system, '2031-03-03').out).toMatchObject([
      { gauge: { name: 'G-1' }, because: 'found outside at its last check' },
    ])
    expect(gaugeFacts(t.system, 'none', '2031-03-03')).toBeUndefined()
  })
})

describe('/tools/gauges', () => {
  test('the owner adds a gauge, a technician checks it, and its page says how it stands', async () => {
    const t = await app()
    const [owner, technician] = [t.cookie('owner'), t.cookie('technician')]
    expect(await page(t, '/tools', owner)).toContain('No gauge is in the register')
    const typed = { name: 'G-1', kind: 'angle_gauge', uncertainty_deg: '1,5' }
    const { reply } = await fillIn(t, owner, '/tools/gauges/new', typed)
    expect(reply.statusCode).toBe(303)
    const address = String(reply.headers.location)
    const id = address.split('/').at(-1)!
    expect(gaugeById(t.system, id)).toMatchObject({ uncertainty_deg: 1.5 })
    const check = { made_on: '2031-03-01', certificate: 'Dividing head', found: 'outside' }
    expect((await fillIn(t, technician, `${address}/checks/new`, check)).reply.statusCode).toBe(303)
    expect(await page(t, address, technician)).toContain('not to be used: found outside at its last check')
    expect(await page(t, '/tools', technician)).toContain('1 Mar 2031')
    const edit = await fillIn(t, owner, `${address}/edit`, { uncertainty_deg: '' })
    expect(edit.reply.statusCode).toBe(303)
    expect(await page(t, address, owner)).toContain('from the settings')
    await page(t, '/tools/gauges/new', technician, 403)
    await page(t, `${address}/checks/new`, t.cookie('desk'), 403)
  })

  test('what is wrong comes back with what was typed', async () => {
    const t = await app()
    const { reply } = await fillIn(t, t.cookie('owner'), '/tools/gauges/new', {
      name: 'G-1',
      kind: 'angle_gauge',
      uncertainty_deg: '60',
    })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('value="60"')
    expect(reply.body).toContain('<a href="#uncertainty-deg">')
  })
})
