import { describe, expect, test } from 'vitest'
import { calibrationsOfWrench, registerWrench, withdrawalsOfWrench, wrenchById } from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { formFields, sendForm } from '../support/http.ts'

const app = eachTestItsApp()

const w11 = (t: TestApp) =>
  registerWrench(t.system, { name: 'W-11', kind: 'measures', min_nm: 10, max_nm: 100, class: 'II A' })

describe('/wrenches', () => {
  test('the register says in words how each stands and until when', async () => {
    const t = await app()
    expect(await page(t, '/wrenches', t.cookie('desk'))).toContain('No wrench is in the register yet')
    const { id } = w11(t)
    registerWrench(t.system, { name: 'W-12', kind: 'clicks', min_nm: 5, max_nm: 25 })
    const html = await page(t, '/wrenches', t.cookie('technician'))
    expect(html).toContain(`<a href="/wrenches/${id}"><span class="ref">W-11</span></a>`)
    expect(html).toContain('10 to 100 N·m')
    expect(html).toContain('3 Mar 2032')
    expect(html).toContain('not to be used: no certificate and no class')
    expect(html).not.toContain('/wrenches/new')
  })

  test('the owner adds a wrench once; others may not', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    const typed = { name: 'W-11', kind: 'clicks', min_nm: '10', max_nm: '100', scale_division_nm: '0,5' }
    const { reply, fields } = await fillIn(t, cookie, '/wrenches/new', typed)
    expect(reply.statusCode).toBe(303)
    const id = String(reply.headers.location).split('/').at(-1)!
    expect(wrenchById(t.system, id)).toMatchObject({ name: 'W-11', kind: 'clicks', scale_division_nm: 0.5 })
    const again = await sendForm(t, '/wrenches/new', cookie, fields)
    expect(again.headers.location).toBe(reply.headers.location)
    await page(t, '/wrenches/new', t.cookie('technician'), 403)
    await page(t, '/wrenches/none', cookie, 404)
  })

  test('what is wrong comes back with what was typed', async () => {
    const t = await app()
    const { reply } = await fillIn(t, t.cookie('owner'), '/wrenches/new', {
      name: 'W-11',
      kind: 'clicks',
      min_nm: '100',
      max_nm: '1,000',
    })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('value="1,000"')
    expect(reply.body).toContain('<a href="#max-nm">')
    const narrow = await fillIn(t, t.cookie('owner'), '/wrenches/new', {
      name: 'W-11',
      kind: 'clicks',
      min_nm: '100',
      max_nm: '10',
    })
    expect(narrow.reply.body).toContain('The range must end above its beginning (100 N·m).')
  })

  test('the owner puts a wrench right', async () => {
    const t = await app()
    const { id } = w11(t)
    const { reply } = await fillIn(t, t.cookie('owner'), `/wrenches/${id}/edit`, { class: '', max_nm: '120' })
    expect(reply.statusCode).toBe(303)
    expect(wrenchById(t.system, id)).toMatchObject({ max_nm: 120, version: 2 })
    expect(wrenchById(t.system, id)).not.toHaveProperty('class')
  })
})

describe('/wrenches/:id', () => {
  test('a technician adds a certificate with its points', async () => {
    const t = await app()
    const cookie = t.cookie('technician')
    const { id } = w11(t)
    const typed = {
      made_on: '2031-01-15',
      certificate: 'K 31-0042',
      found: 'good',
      'points[0][at_nm]': '20',
      'points[0][uncertainty_nm]': '0,4',
      'points[1][at_nm]': '100',
      'points[1][uncertainty_nm]': '2',
    }
    const { reply } = await fillIn(t, cookie, `/wrenches/${id}/calibrations/new`, typed)
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `/wrenches/${id}`])
    const [made] = calibrationsOfWrench(t.system, id)
    expect(made).toMatchObject({
      points: [
        { at_nm: 20, uncertainty_nm: 0.4 },
        { at_nm: 100, uncertainty_nm: 2 },
      ],
    })
    const html = await page(t, `/wrenches/${id}`, cookie)
    expect(html).toContain('0.4 at 20 N·m; 2 at 100 N·m')
    expect(html).toContain('may be used, to 15 January 2032')
  })

  test('half a point and a day to come are put right where they stand', async () => {
    const t = await app()
    const { id } = w11(t)
    const typed = { made_on: '2031-12-15', certificate: 'K', found: 'good', 'points[1][at_nm]': '20' }
    const { reply } = await fillIn(t, t.cookie('technician'), `/wrenches/${id}/calibrations/new`, typed)
    expect(reply.statusCode).toBe(422)
    // the empty first row is gone, so the row with half a point has moved up
    expect(reply.body).toContain('<a href="#points-0-uncertainty-nm">')
    expect(formFields(reply.body, `/wrenches/${id}/calibrations/new`)).toMatchObject({
      'points[0][at_nm]': '20',
      certificate: 'K',
    })
    const later = await fillIn(t, t.cookie('technician'), `/wrenches/${id}/calibrations/new`, {
      ...typed,
      'points[1][at_nm]': '',
    })
    expect(later.reply.body).toContain('<a href="#made-on">')
    expect(calibrationsOfWrench(t.system, id)).toEqual([])
  })

  test('a technician takes it out of use, and the page says so', async () => {
    const t = await app()
    const cookie = t.cookie('technician')
    const { id } = w11(t)
    const { reply } = await fillIn(t, cookie, `/wrenches/${id}/withdrawals/new`, { reason: 'Fell off the lift' })
    expect(reply.statusCode).toBe(303)
    expect(withdrawalsOfWrench(t.system, id)).toMatchObject([
      { at: '2031-03-03T08:00:00.000Z', reason: 'Fell off the lift' },
    ])
    expect(await page(t, `/wrenches/${id}`, cookie)).toContain('not to be used: taken out of use')
    const empty = await fillIn(t, cookie, `/wrenches/${id}/withdrawals/new`, { at: 'yesterday' })
    expect(empty.reply.statusCode).toBe(422)
    expect(empty.reply.body).toContain('<a href="#reason">')
    await page(t, `/wrenches/${id}/withdrawals/new`, t.cookie('desk'), 403)
  })
})
