import { describe, expect, test } from 'vitest'
import { allProcedures, createProcedure, latestRevision, procedureRevisions } from '../../src/catalogue/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { TYPED_REVISION } from '../support/revision-form.ts'

const app = eachTestItsApp()

/** The address at which a new procedure gets its revisions. */
function formOf(t: TestApp): string {
  const { id } = createProcedure(t.system, { name: 'Hub, six bolts' })
  return `/catalogue/procedures/${id}/revisions/new`
}

const revisions = (t: TestApp) => procedureRevisions(t.system, allProcedures(t.system)[0]!.id)
const rowsOf = (html: string, list: string, field: string) =>
  html.match(new RegExp(`name="${list}\\[\\d+\\]\\[${field}\\]"`, 'g'))?.length ?? 0

describe('the form of a revision', () => {
  test('the next one begins as the last one was, and every field comes back as it was stored', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    const url = formOf(t)
    const typed = {
      ...TYPED_REVISION,
      layout: 'free',
      count: '',
      'positions[0][x_mm]': '0',
      'positions[0][y_mm]': '0',
      'positions[1][x_mm]': '12,5',
      'positions[1][y_mm]': '0',
      'positions[3][x_mm]': '0',
      'positions[3][y_mm]': '-40',
      order: '3, 1, 2',
      order_names: 'labels',
      'stages[2][kind]': 'repeat',
      thread: 'M8',
      class: '10.9',
      finish: 'Oiled',
      marks: ['Flange to hub', '', 'Spacer'],
    }
    expect((await fillIn(t, cookie, url, typed)).reply.statusCode).toBe(303)
    const [first] = revisions(t)
    expect(first).toMatchObject({
      layout: 'free',
      count: 3,
      positions: [
        { x_mm: 0, y_mm: 0 },
        { x_mm: 12.5, y_mm: 0 },
        { x_mm: 0, y_mm: -40 },
      ],
      order: [3, 1, 2],
      order_names: 'labels',
      stages: [
        { kind: 'torque', target: 30, lower: 28.5, upper: 31.5 },
        { kind: 'angle', target: 90 },
        { kind: 'torque', target: 30, lower: 28.5, upper: 31.5 },
      ],
      finish: 'Oiled',
      marks: ['Flange to hub', 'Spacer'],
      warnings: [],
    })
    const again = await page(t, url, cookie)
    for (const mark of typed.marks.filter(Boolean)) expect(again).toContain(`value="${mark}"`)
    expect((await fillIn(t, cookie, url, { marks: typed.marks })).reply.statusCode).toBe(303)
    const [, second] = revisions(t)
    const { id: _, created_at: __, revision: ___, created_by: ____, ...same } = first!
    expect(second).toMatchObject(same)
    expect(await page(t, url.replace('/revisions/new', ''), cookie)).toContain('Nothing but this entry.')
  })

  test('more rows come by a button, with everything as it was typed and nothing stored', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    const url = formOf(t)
    const fresh = await page(t, url, cookie)
    expect([rowsOf(fresh, 'stages', 'kind'), rowsOf(fresh, 'positions', 'x_mm')]).toEqual([3, 2])
    const typed = {
      ...TYPED_REVISION,
      order: 'not yet',
      'positions[0][x_mm]': '1,5',
      marks: ['Spacer', ''],
      source: '',
    }
    const more = await fillIn(t, cookie, url, { ...typed, _again: 'positions 10' })
    expect(more.reply.statusCode).toBe(200)
    expect(rowsOf(more.reply.body, 'positions', 'x_mm')).toBe(10)
    expect(more.reply.body).not.toContain('error-summary')
    for (const kept of ['value="not yet"', 'value="1,5"', 'value="28,5"', 'value="Spacer"']) {
      expect(more.reply.body).toContain(kept)
    }
    const stages = await fillIn(t, cookie, url, { ...typed, _again: 'stages 6' })
    expect(rowsOf(stages.reply.body, 'stages', 'kind')).toBe(6)
    const marks = await fillIn(t, cookie, url, { ...typed, _again: 'marks 6' })
    expect(marks.reply.body.match(/name="marks"/g)).toHaveLength(6)
    for (const odd of ['stages 999', 'positions 0', 'hands 3', '']) {
      expect((await fillIn(t, cookie, url, { ...typed, _again: odd })).reply.statusCode).toBe(200)
    }
    const many = await fillIn(t, cookie, url, { ...typed, _again: 'stages 999' })
    expect(rowsOf(many.reply.body, 'stages', 'kind')).toBe(12)
    expect(revisions(t)).toEqual([])
  })

  test('draws what is typed before it is saved, or says what keeps it from that', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    const url = formOf(t)
    const draw = async (more: Record<string, string>) => {
      const { reply } = await fillIn(t, cookie, url, { _again: 'draw', ...more })
      expect(reply.statusCode).toBe(200)
      const numbers = [...reply.body.matchAll(/class="order-number"[^>]*>(\d+)</g)].map(match => Number(match[1]))
      return { numbers, html: reply.body }
    }
    const five = { layout: 'circle', count: '5', order: '1, 4, 2, 5, 3' }
    expect((await draw({ ...five, order_names: 'labels' })).numbers).toEqual([1, 4, 2, 5, 3])
    expect((await draw({ ...five, order_names: 'positions' })).numbers).toEqual([1, 3, 5, 2, 4])
    expect((await draw({ ...five })).html).toContain('say whether the numbers name positions')
    expect((await draw({})).html).toContain('Cannot be drawn')
    expect((await draw({ ...five, order: 'x', order_names: 'labels' })).html).toContain('not the number of a fastener')
    expect((await draw({ ...TYPED_REVISION })).html).toContain(
      'Tighten to 30 N·m (28.5 to 31.5 N·m); then turn further by 90°',
    )
    expect(revisions(t)).toEqual([])
  })

  test('what is wrong is said at a control that is there, and everything typed is kept', async () => {
    const t = await app()
    const url = formOf(t)
    const wrong = async (typed: Record<string, string>, ...ids: string[]) => {
      const { reply } = await fillIn(t, t.cookie('owner'), url, { ...TYPED_REVISION, ...typed })
      expect(reply.statusCode).toBe(422)
      for (const id of ids) {
        expect(reply.body).toContain(`<a href="#${id}">`)
        expect(reply.body).toContain(`id="${id}"`)
      }
      return reply.body
    }
    const place = (at: number, x: string, y: string) => ({
      [`positions[${at}][x_mm]`]: x,
      [`positions[${at}][y_mm]`]: y,
    })
    const free = { layout: 'free', count: '' }
    expect(await wrong({ ...free, ...place(0, '0', 'two') }, 'positions-0-y-mm')).toContain('value="two"')
    await wrong({ ...free, ...place(0, '9999999', '0') }, 'positions-0-x-mm')
    await wrong({ ...free, ...place(0, '5', '') }, 'positions-0-y-mm')
    await wrong({ ...free, ...place(0, '5', '5'), ...place(1, '5', '5') }, 'positions-1-x-mm')
    await wrong(free, 'positions-0-x-mm')
    expect(await wrong({ order: '1 4 x' }, 'order')).toContain('value="1 4 x"')
    await wrong({ order: '1 4 999', order_names: 'labels' }, 'order')
    await wrong({ order: '1 4 2' }, 'order', 'order-names')
    await wrong({ 'stages[0][lower]': '40' }, 'stages-0-lower')
    await wrong({ 'stages[1][target]': '' }, 'stages-1-target')
    await wrong({ 'stages[1][target]': '1441' }, 'stages-1-target')
    await wrong({ layout: 'rectangle' }, 'rows')
    await wrong({ 'stages[0][kind]': 'repeat', 'stages[0][target]': '' }, 'stages-0-kind')
    await wrong({ 'stages[1][kind]': 'repeat', 'stages[1][target]': '31' }, 'stages-1-target')
    await wrong({ 'stages[0][kind]': 'loosen' }, 'stages-0-kind')
    expect(await wrong({ thread: 'M8', class: 'Z' }, 'class')).toContain('4.6, 4.8')
    const absurd = { thread: 'M8', class: '8.8', 'stages[0][target]': '300', 'stages[0][upper]': '310' }
    expect(await wrong(absurd, 'stages-0-target')).toContain('more than twice the 32 N·m or so')
    await wrong({ 'stages[0][target]': '3001', 'stages[0][upper]': '' }, 'stages-0-target')
    await wrong({ marks: 'x'.repeat(501) }, 'marks')
    const none = { 'stages[0][kind]': '', 'stages[0][target]': '', 'stages[0][lower]': '', 'stages[0][upper]': '' }
    await wrong({ ...none, 'stages[1][kind]': '', 'stages[1][target]': '' }, 'stages-0-kind')
    expect(revisions(t)).toEqual([])
  })

  test('a torque above the proof load is taken, and the page asks to compare it', async () => {
    const t = await app()
    const url = formOf(t)
    const high = { thread: 'M8', class: '8.8', 'stages[0][target]': '40', 'stages[0][upper]': '41' }
    expect((await fillIn(t, t.cookie('owner'), url, { ...TYPED_REVISION, ...high })).reply.statusCode).toBe(303)
    expect(latestRevision(t.system, allProcedures(t.system)[0]!.id)!.warnings).toMatchObject([
      { field: 'stages/0/target' },
    ])
    const html = await page(t, url.replace('/revisions/new', ''), t.cookie('technician'))
    expect(html).toContain('40 N·m is above the 32 N·m or so')
  })
})
