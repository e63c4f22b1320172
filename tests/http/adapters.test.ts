import { beforeEach, describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { adapterById, adapterFacts, allAdapters, registerAdapter, registerWrench } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

const CROWFOOT = { name: 'Crowfoot 17', length_mm: 100 }

describe('/api/adapters', () => {
  test('an adapter is registered, read back, listed and changed', async () => {
    const t = await app()
    const made = await scenario(t, { as: 'owner', post: '/api/adapters', body: CROWFOOT, expect: 201, events: 1 })
    const patch = made.headers.location!
    expect(made.body).toMatchObject({ ...CROWFOOT, version: 1 })
    expect((await scenario(t, { as: 'desk', get: patch, expect: 200 })).body).toEqual(made.body)
    expect((await scenario(t, { as: 'desk', get: '/api/adapters', expect: 200 })).body.items).toEqual([made.body])
    const body = { length_mm: 45 }
    expect((await scenario(t, { as: 'owner', patch, body, ifMatch: '"1"', expect: 200 })).body).toMatchObject(body)
    expect(adapterFacts(t.system, made.body.id)).toEqual({ id: made.body.id, name: 'Crowfoot 17', length_mm: 45 })
    expect(allAdapters(t.system)).toHaveLength(1)
    expect(adapterFacts(t.system, 'none')).toBeUndefined()
  })

  test('bad input, wrong role, a name that is taken, unknown id', async () => {
    const t = await app()
    const post = '/api/adapters'
    await scenario(t, { as: 'owner', post, body: { name: 'x', length_mm: 0 }, expect: 422, fields: ['/length_mm'] })
    await scenario(t, { as: 'owner', post, body: { name: 'x', length_mm: 9000 }, expect: 422, fields: ['/length_mm'] })
    await scenario(t, { as: 'technician', post, body: CROWFOOT, expect: 403 })
    await scenario(t, { as: 'owner', post, body: CROWFOOT, expect: 201 })
    const taken = await scenario(t, { as: 'owner', post, body: CROWFOOT, expect: 409, fields: ['/name'] })
    expect(taken.body.detail).toBe('There is an adapter called “Crowfoot 17” already.')
    await scenario(t, { as: 'desk', get: '/api/adapters/none', expect: 404 })
  })
})

describe('/tools/adapters/:id', () => {
  let t: TestApp
  let address: string
  let cookie: string

  beforeEach(async () => {
    t = await app()
    cookie = t.cookie('technician')
    address = `/tools/adapters/${registerAdapter(t.system, CROWFOOT).id}`
  })

  const w7 = (more: object = {}) =>
    registerWrench(t.system, {
      ...{ name: 'W-07', kind: 'clicks', min_nm: 20, max_nm: 100, class: 'II A', length_mm: 400 },
      ...more,
    }).id

  test('says what to set, draws it to scale, and carries its caution', async () => {
    w7({ scale_division_nm: 1 })
    const html = await page(t, `${address}?target=50&angle=0`, cookie)
    // T·L/(L + E·cos θ) = 50 · 400 / 500
    expect(html).toContain('40\u00a0N·m')
    expect(html).toContain('The nearest mark of its scale is 40 N·m.')
    expect(html).toContain('hand at the grip mark')
    expect(html).toContain('<strong>Caution</strong>')
    expect(html).toContain('L &#x3D; 400 mm, E &#x3D; 100 mm, θ &#x3D; 0°')
    expect(html).toMatch(/<svg[^>]*aria-labelledby="setting-wide-t setting-wide-d"/)
    // 4 % of 40 N·m, carried along the lever: 2 N·m at the fastener
    expect(html).toContain('±2\u00a0N·m')
    const across = await page(t, `${address}?target=50&angle=90`, cookie)
    expect(across).toContain('50\u00a0N·m')
  })

  test('warns when the setting lies outside what the wrench may be used for', async () => {
    const id = w7()
    const html = await page(t, `${address}?target=22&angle=0&wrench=${id}`, cookie)
    expect(html).toContain('At that setting W-07 is not to be used: below its range.')
  })

  test('takes the shop’s unit and shows it beside N·m', async () => {
    w7()
    patchSettings(t.system, { torque_unit: 'lbf.ft' }, 0)
    const html = await page(t, `${address}?target=50`, cookie)
    // 50 lbf·ft is 67.79 N·m; through the adapter 54.23 N·m, 40 lbf·ft
    expect(html).toContain('54.2\u00a0N·m (40\u00a0lbf·ft)')
  })

  test('says what is missing: no wrench, no length, an adapter that reaches back to the hand', async () => {
    expect(await page(t, `${address}?target=50`, cookie)).toContain('No such wrench is in the register.')
    const bare = w7({ name: 'W-08', length_mm: undefined })
    expect(await page(t, `${address}?target=50&wrench=${bare}`, cookie)).toContain(
      'The length of W-08 is not in the register',
    )
    const short = w7({ name: 'W-09', length_mm: 90 })
    const back = await page(t, `${address}?target=50&angle=180&wrench=${short}`, cookie)
    expect(back).toContain('this adapter would reach back to the hand')
  })

  test.each([
    ['target=zero', 'target'],
    ['target=-5', 'target'],
    ['target=', 'target'],
    ['target=50&angle=200', 'angle'],
    ['target=50&unit=stone', 'unit'],
  ])('what is wrong in “%s” is said beside the field, and stays as typed', async (query, field) => {
    w7()
    const html = await page(t, `${address}?${query}`, cookie)
    expect(html).toContain(`<a href="#${field}">`)
    expect(html).toContain('Error: ')
    expect(html).not.toContain('What to set')
    if (query === 'target=zero') expect(html).toContain('value="zero"')
  })

  test('the owner adds and puts right', async () => {
    const owner = t.cookie('owner')
    const { reply } = await fillIn(t, owner, '/tools/adapters/new', { name: 'Offset', length_mm: '120,5' })
    const id = String(reply.headers.location).split('/').at(-1)!
    expect(adapterById(t.system, id)).toMatchObject({ name: 'Offset', length_mm: 120.5 })
    await fillIn(t, owner, `/tools/adapters/${id}/edit`, { length_mm: '121' })
    expect(adapterById(t.system, id).length_mm).toBe(121)
    expect(await page(t, '/tools', owner)).toContain('121 mm')
    await page(t, '/tools/adapters/none', owner, 404)
    await page(t, '/tools/adapters/new', cookie, 403)
  })
})
