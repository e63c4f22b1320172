import { describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { recordTorque } from '../../src/fastening/index.ts'
import {
  calibrationsOfWrench,
  recordCalibration,
  registerWrench,
  withdrawalsOfWrench,
  wrenchById,
} from '../../src/tools/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()

const w11 = (t: TestApp) =>
  registerWrench(t.system, { name: 'W-11', kind: 'measures', min_nm: 10, max_nm: 100, class: 'II A' })

describe('/tools', () => {
  test('the register says in words how each stands and until when', async () => {
    const t = await app()
    expect(await page(t, '/tools', t.cookie('desk'))).toContain('No wrench is in the register yet')
    const { id } = w11(t)
    registerWrench(t.system, { name: 'W-12', kind: 'clicks', min_nm: 5, max_nm: 25 })
    const html = await page(t, '/tools', t.cookie('technician'))
    expect(html).toContain(`<a href="/tools/wrenches/${id}"><span class="ref">W-11</span></a>`)
    expect(html).toContain('10 to 100 N·m')
    expect(html).toContain('3 Mar 2032')
    expect(html).toContain('not to be used: no certificate, and no class that stands in for one')
    expect(html).not.toContain('/tools/wrenches/new')
  })

  test('the owner adds a wrench once; others may not', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    const typed = { name: 'W-11', kind: 'clicks', min_nm: '10', max_nm: '100', scale_division_nm: '0,5' }
    const { reply, fields } = await fillIn(t, cookie, '/tools/wrenches/new', typed)
    expect(reply.statusCode).toBe(303)
    const id = String(reply.headers.location).split('/').at(-1)!
    expect(wrenchById(t.system, id)).toMatchObject({ name: 'W-11', kind: 'clicks', scale_division_nm: 0.5 })
    const again = await sendForm(t, '/tools/wrenches/new', cookie, fields)
    expect(again.headers.location).toBe(reply.headers.location)
    await page(t, '/tools/wrenches/new', t.cookie('technician'), 403)
    await page(t, '/tools/wrenches/none', cookie, 404)
  })

  test('what is wrong comes back with what was typed', async () => {
    const t = await app()
    const { reply } = await fillIn(t, t.cookie('owner'), '/tools/wrenches/new', {
      name: 'W-11',
      kind: 'clicks',
      min_nm: '100',
      max_nm: '1,000',
    })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('value="1,000"')
    expect(reply.body).toContain('<a href="#max-nm">')
    const narrow = await fillIn(t, t.cookie('owner'), '/tools/wrenches/new', {
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
    const { reply } = await fillIn(t, t.cookie('owner'), `/tools/wrenches/${id}/edit`, { class: '', max_nm: '120' })
    expect(reply.statusCode).toBe(303)
    expect(wrenchById(t.system, id)).toMatchObject({ max_nm: 120, version: 2 })
    expect(wrenchById(t.system, id)).not.toHaveProperty('class')
  })
})

describe('/tools/wrenches/:id', () => {
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
    const { reply } = await fillIn(t, cookie, `/tools/wrenches/${id}/calibrations/new`, typed)
    expect([reply.statusCode, reply.headers.location]).toEqual([303, `/tools/wrenches/${id}`])
    const [made] = calibrationsOfWrench(t.system, id)
    expect(made).toMatchObject({
      points: [
        { at_nm: 20, uncertainty_nm: 0.4 },
        { at_nm: 100, uncertainty_nm: 2 },
      ],
    })
    const html = await page(t, `/tools/wrenches/${id}`, cookie)
    expect(html).toContain('0.4 at 20 N·m; 2 at 100 N·m')
    expect(html).toContain('may be used, to 15 January 2032')
  })

  test('half a point and a day to come are put right where they stand', async () => {
    const t = await app()
    const { id } = w11(t)
    const typed = { made_on: '2031-12-15', certificate: 'K', found: 'good', 'points[1][at_nm]': '20' }
    const { reply } = await fillIn(t, t.cookie('technician'), `/tools/wrenches/${id}/calibrations/new`, typed)
    expect(reply.statusCode).toBe(422)
    // the empty first row is gone, so the row with half a point has moved up
    expect(reply.body).toContain('<a href="#points-0-uncertainty-nm">')
    expect(formFields(reply.body, `/tools/wrenches/${id}/calibrations/new`)).toMatchObject({
      'points[0][at_nm]': '20',
      certificate: 'K',
    })
    const later = await fillIn(t, t.cookie('technician'), `/tools/wrenches/${id}/calibrations/new`, {
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
    const { reply } = await fillIn(t, cookie, `/tools/wrenches/${id}/withdrawals/new`, { reason: 'Fell off the lift' })
    expect(reply.statusCode).toBe(303)
    expect(withdrawalsOfWrench(t.system, id)).toMatchObject([
      { at: '2031-03-03T08:00:00.000Z', reason: 'Fell off the lift' },
    ])
    expect(await page(t, `/tools/wrenches/${id}`, cookie)).toContain('not to be used: taken out of use')
    const empty = await fillIn(t, cookie, `/tools/wrenches/${id}/withdrawals/new`, { at: 'yesterday' })
    expect(empty.reply.statusCode).toBe(422)
    expect(empty.reply.body).toContain('<a href="#reason">')
    await page(t, `/tools/wrenches/${id}/withdrawals/new`, t.cookie('desk'), 403)
    // an hour that nobody typed would settle what comes into doubt
    const form = `/tools/wrenches/${id}/withdrawals/new`
    const timeless = await sendForm(t, form, cookie, [
      ['_key', 'timeless'],
      ['reason', 'Fell'],
    ])
    expect(timeless.body).toContain('Say when it happened.')
    expect(timeless.body).toContain('value="Fell"')
  })
})

describe('what a wrench was used for', () => {
  const used = async () => {
    const t = await app()
    const w = orderWorld(t)
    const joint = jointWith(t, w)
    for (const position of [1, 2, 3]) recordTorque(w.technician, joint, reading(w, position, 1, 25))
    return { t, w, joint, cookie: t.cookie('technician'), address: `/tools/wrenches/${w.wrench}` }
  }

  test('cycles are counted from the torque records, by month, and what is left of them is said', async () => {
    const { t, w, joint, cookie, address } = await used()
    const { body } = await scenario(t, { as: 'desk', get: `/api/wrenches/${w.wrench}`, expect: 200 })
    expect(body.cycles).toBe(3)
    const html = await page(t, address, cookie)
    expect(html).toContain('March 2031')
    expect(html).toMatch(/Ever since<\/th><td[^>]*>3</)
    patchSettings(w.owner, { calibration_months: 2, calibration_cycles: 4 }, 0)
    expect(await page(t, '/tools', cookie)).toMatch(
      /Due soon.*12 days and 1 cycle left of its calibration, to 15 March 2031/s,
    )
    recordTorque(w.technician, joint, reading(w, 4, 1, 25))
    expect(await page(t, '/tools', cookie)).toContain('the cycles of its calibration are used up')
  })

  test('that fell at the bench is taken out of use by one tap, and the joint is gone on with', async () => {
    const { t, w, joint, cookie, address } = await used()
    const form = `${address}/withdrawals/new?joint=${joint}`
    expect(await page(t, `/bench/joints/${joint}`, cookie)).toContain(`href="${address}/withdrawals/new?joint`)
    const { reply } = await fillIn(t, cookie, `${address}/withdrawals/new`, { reason: 'It fell' }, form)
    expect(reply.headers.location).toBe(`/bench/joints/${joint}#now`)
    expect(withdrawalsOfWrench(t.system, w.wrench)).toMatchObject([{ at: '2031-03-03T08:00:00.000Z' }])
    expect(await page(t, `/bench/joints/${joint}`, cookie)).toContain('is out of use until a good calibration')
  })

  test('a drop entered late puts in doubt what came after it, and the page says how much', async () => {
    const { t, cookie, address } = await used()
    expect(await page(t, `${address}/withdrawals/new`, cookie)).toContain('it was used on 1 joint')
    const drop = { at: '2031-03-03T06:30', reason: 'Fell off the lift' }
    const { reply } = await fillIn(t, cookie, `${address}/withdrawals/new`, drop)
    expect(reply.statusCode).toBe(303)
    const html = await page(t, address, cookie)
    expect(html).toContain('is out of use until a good calibration: 1 joint is in doubt.')
    expect(html).toContain('<a href="/in-doubt">1 joint is in doubt</a>')
  })

  test('a drop before the last good certificate puts nothing in doubt, and the page says why', async () => {
    const { t, w, cookie, address } = await used()
    recordCalibration(w.owner, w.wrench, { made_on: '2031-03-02', certificate: 'K-9', found: 'good', points: [] })
    await fillIn(t, cookie, `${address}/withdrawals/new`, { at: '2031-03-01T09:00', reason: 'Fell' })
    const html = await page(t, address, cookie)
    expect(html).toContain('the certificate of 2 March 2031 came after it and was good: nothing is in doubt')
    expect(html).not.toContain('not to be used')
  })

  test('a certificate that states the reference says which way the joints went', async () => {
    const { t, w, cookie, address } = await used()
    const typed = {
      made_on: '2031-03-03',
      certificate: 'K-10',
      found: 'outside',
      'points[0][at_nm]': '50',
      'points[0][uncertainty_nm]': '1',
      'points[0][reference_nm]': '47',
    }
    await fillIn(t, cookie, `${address}/calibrations/new`, typed)
    const html = await page(t, address, cookie)
    // ISO 6789: 100·(50 − 47)/47
    expect(html).toContain('At 50 N·m it reads 6.4 % high: its joints got less than asked for')
    expect(html).toContain('1 joint is in doubt')
    expect(calibrationsOfWrench(t.system, w.wrench)[0]?.points).toEqual([
      { at_nm: 50, uncertainty_nm: 1, reference_nm: 47 },
    ])
  })

  test('a slip of typing in a certificate is named beside its field', async () => {
    const { t, cookie, address } = await used()
    const typed = {
      made_on: '2031-03-03',
      certificate: 'K-10',
      found: 'good',
      'points[0][at_nm]': '80',
      'points[0][uncertainty_nm]': '80',
    }
    const { reply } = await fillIn(t, cookie, `${address}/calibrations/new`, typed)
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain('<a href="#points-0-uncertainty-nm">')
    expect(reply.body).toContain('80 N·m at 80 N·m is 100 % of the value')
  })
})
