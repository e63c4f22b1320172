import { describe, expect, test } from 'vitest'
import { allParts, allSuppliers, createPart, createSupplier } from '../../src/parts/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'

const app = eachTestItsApp()

describe('/parts', () => {
  test('the desk adds a part and a supplier and puts them right', async () => {
    const t = await app()
    const cookie = t.cookie('desk')
    await fillIn(t, cookie, '/parts/new', { number: 'HB-35', name: 'Hub bolt', single_use: 'true' })
    await fillIn(t, cookie, '/suppliers/new', { name: 'Harbour Bearings' })
    const [part] = allParts(t.system)
    const [supplier] = allSuppliers(t.system)
    expect(part).toMatchObject({ number: 'HB-35', single_use: true })
    const html = await page(t, '/parts', cookie)
    expect(html).toContain('Harbour Bearings')
    const edited = await fillIn(t, cookie, `/parts/${part!.id}/edit`, { name: 'Hub bolt M10' })
    expect(edited.reply.headers.location).toBe('/parts')
    await fillIn(t, cookie, `/suppliers/${supplier!.id}/edit`, { name: 'Harbour' })
    expect(allParts(t.system)).toMatchObject([{ name: 'Hub bolt M10', single_use: true, version: 2 }])
    expect(allSuppliers(t.system)).toMatchObject([{ name: 'Harbour', version: 2 }])
  })

  test('a number or name that is taken, and an empty one, are said where they stand', async () => {
    const t = await app()
    createPart(t.system, { number: 'HB-35', name: 'Hub bolt' })
    createSupplier(t.system, { name: 'Harbour' })
    const cookie = t.cookie('desk')
    const part = await fillIn(t, cookie, '/parts/new', { number: 'hb-35', name: 'Other' })
    expect(part.reply.statusCode).toBe(409)
    expect(part.reply.body).toContain('<a href="#number">')
    expect(part.reply.body).toContain('value="Other"')
    const supplier = await fillIn(t, cookie, '/suppliers/new', { name: 'HARBOUR' })
    expect(supplier.reply.statusCode).toBe(409)
    expect((await fillIn(t, cookie, '/suppliers/new', {})).reply.statusCode).toBe(422)
  })

  test('a technician reads the list and changes nothing', async () => {
    const t = await app()
    const { id } = createPart(t.system, { number: 'HB-35', name: 'Hub bolt' })
    const cookie = t.cookie('technician')
    const html = await page(t, '/parts', cookie)
    expect(html).toContain('Hub bolt')
    expect(html).not.toContain('/edit')
    for (const url of ['/parts/new', `/parts/${id}/edit`, '/suppliers/new']) await page(t, url, cookie, 403)
    await page(t, '/parts/none/edit', t.cookie('desk'), 404)
  })
})
