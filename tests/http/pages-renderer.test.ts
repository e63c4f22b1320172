import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { loadAssets } from '../../src/platform/pages/assets.ts'
import { errorSummary } from '../../src/platform/pages/field.ts'
import { type PageBase, pageView } from '../../src/platform/pages/page-view.ts'
import { patternsView } from '../../src/platform/pages/patterns.ts'
import { createRenderer } from '../../src/platform/pages/renderer.ts'
import { column, table } from '../../src/platform/pages/table.ts'
import { link, ref, words } from '../../src/platform/pages/words.ts'
import { packageRoot } from '../../src/platform/paths.ts'

const templatesDir = join(packageRoot, 'templates')
const renderer = createRenderer({ templatesDir })
const base: PageBase = {
  house: { name: 'Pennard & Oake', place: 'Quillhaven', address: '4 Ropewalk, Quillhaven' },
  signed_in: { name: 'Ilse Marrok', role: 'desk' },
  asset: '/assets/0123',
  notice: null,
}
const problemView = { what: 'No such order.', not_saved: null, do_next: null, request_id: 'r-1', actions: [] }

describe('createRenderer', () => {
  let dir: string
  beforeAll(() => {
    dir = mkdtempSync(join(tmpdir(), 'templates-'))
    mkdirSync(join(dir, 'partials'))
  })
  afterAll(() => rmSync(dir, { recursive: true }))
  const put = (name: string, source: string): void => writeFileSync(join(dir, name), source)

  test('escapes what it prints', () => {
    put('a.hbs', '<p title="{{text}}">{{text}}</p>')
    const html = createRenderer({ templatesDir: dir }).render('a', { text: `"<script>'` })
    expect(html).toBe('<p title="&quot;&lt;script&gt;&#x27;">&quot;&lt;script&gt;&#x27;</p>')
  })

  test('throws on a name that the view lacks, and says in which template', () => {
    put('a.hbs', '{{missing}}')
    expect(() => createRenderer({ templatesDir: dir }).render('a', {})).toThrow(/Template a: "missing" not defined/)
  })

  test('prints a zero and an empty text that are there', () => {
    put(
      'a.hbs',
      '{{#if (given count)}}{{count}}{{/if}}[{{#if (given text)}}{{text}}{{/if}}]{{#if (given none)}}x{{/if}}',
    )
    expect(createRenderer({ templatesDir: dir }).render('a', { count: 0, text: '' })).toBe('0[]')
  })

  test('refuses a helper it does not know before any page is asked for', () => {
    put('bad.hbs', '{{shout "x"}}')
    expect(() => createRenderer({ templatesDir: dir })).toThrow(/bad\.hbs: .*shout/)
    rmSync(join(dir, 'bad.hbs'))
  })

  test('keeps a textarea as it was typed, however deep the partial is indented', () => {
    put('partials/area.hbs', '<textarea>\n{{text}}</textarea>\n')
    put('a.hbs', '<div>\n    {{> area}}\n</div>')
    expect(createRenderer({ templatesDir: dir }).render('a', { text: 'one\ntwo' })).toContain(
      '<textarea>\none\ntwo</textarea>',
    )
  })

  test('names the template that does not exist', () => {
    expect(() => renderer.render('no/such', {})).toThrow(/no template no\/such/)
  })

  test('reads a changed template again only for whoever is writing one', () => {
    put('a.hbs', 'before')
    const [fixed, live] = [createRenderer({ templatesDir: dir }), createRenderer({ templatesDir: dir, dev: true })]
    put('a.hbs', 'after')
    expect([fixed.render('a', {}), live.render('a', {})]).toEqual(['before', 'after'])
  })
})

describe('layouts/page', () => {
  const page = (sheet: Parameters<typeof pageView>[1], more: Partial<PageBase> = {}): string =>
    renderer.render('errors/problem', { page: pageView({ ...base, ...more }, sheet), ...problemView })

  test('marks the place where one is, and only that', () => {
    const html = page({ title: 'Take in', nav: 'take-in' })
    expect(html.match(/aria-current="page"/g)).toHaveLength(1)
    expect(html).toContain('<a href="/take-in" aria-current="page">Take in</a>')
  })

  test('says in the tab that something needs putting right', () => {
    expect(page({ title: 'Take in', error: true })).toContain('<title>Error: Take in – Pennard &amp; Oake</title>')
    expect(page({ title: 'Take in' })).toContain('<title>Take in – Pennard &amp; Oake</title>')
  })

  test('at the bench shows three places first and the rest at the foot', () => {
    const html = page({ title: 'My jobs', nav: 'bench', at_bench: true })
    expect(html).toContain('<html lang="en" class="at-bench">')
    expect(html.indexOf('Tools out')).toBeLessThan(html.indexOf('Take in</a>'))
    expect(html).toContain('href="#everywhere"')
    expect(html).toContain('id="everywhere"')
  })

  test('shows no way about and no sign-out before anybody has signed in', () => {
    const html = page({ title: 'Sign in' }, { signed_in: null })
    expect(html).not.toContain('<nav')
    expect(html).not.toContain('/log-out')
  })

  test('says a notice once, as a status', () => {
    expect(page({ title: 'x' }, { notice: 'Taken in as 2031-0231.' })).toContain(
      'role="status">Taken in as 2031-0231.</p>',
    )
    expect(page({ title: 'x' })).not.toContain('class="notice"')
  })
})

describe('partials', () => {
  const field = (more: object): string =>
    renderer.render('field', { id: 'odo', name: 'odo', label: 'Odometer', type: 'number', required: true, ...more })

  test('chain hint and error to their control, and say the error before the control', () => {
    const html = field({ hint: 'As shown now', error: 'lower than before.', value: 0, unit: 'km' })
    expect(html).toContain('aria-describedby="odo-hint odo-problem"')
    expect(html).toContain('aria-invalid="true"')
    expect(html).toContain('value="0"')
    expect(html.indexOf('odo-problem')).toBeLessThan(html.indexOf('<input'))
  })

  test('give the first of several choices the id that the error summary links to', () => {
    const options = [
      { value: 'a', label: 'A' },
      { value: 'b', label: 'B', selected: true },
    ]
    const html = field({ type: 'radios', options, error: 'choose one.' })
    expect(html).toContain('id="odo" value="a">')
    expect(html).toContain('id="odo-1" value="b" checked>')
    const summary = renderer.render('error-summary', errorSummary([{ field: 'odo', text: 'None chosen.' }]))
    expect(summary).toContain('<h2 id="error-summary-heading">One thing to put right</h2>')
    expect(summary).toContain('<a href="#odo">None chosen.</a>')
  })

  test.each([
    [true, true],
    ['true', true],
    ['on', true],
    [false, false],
    ['false', false],
    [undefined, false],
  ])('tick a box for %j: %j', (value, ticked) =>
    expect(field({ type: 'checkbox', value }).includes(' checked')).toBe(ticked),
  )

  test('never tell a browser that a box must be ticked', () => {
    expect(field({ type: 'checkbox', value: false })).not.toContain(' required')
  })

  test('keep the first line of a text that begins with an empty one', () => {
    expect(field({ type: 'textarea', value: '\nsecond' })).toContain('>\n\nsecond</textarea>')
  })

  test('label every cell of a table that turns into a list, and head each row once', () => {
    const view = table({
      columns: [column('Job'), column('Hours', 'figure'), column('Ratio', 'figure', '95 %')],
      rows: [{ signed: true, cells: ['B', '0.6', { text: '8.6', notes: ['3.5 to 22.8'] }] }, { cells: ['', '1'] }],
    })
    const html = renderer.render('table', view)
    expect(html).toContain('<tr class="signed"><th scope="row" class="reads">B</th>')
    expect(html).toContain('data-label="Ratio 95 %">8.6 <small>3.5 to 22.8</small>')
    expect(html.match(/scope="row"/g)).toHaveLength(1)
    expect(() => table({ columns: [column('Job')], rows: [{ cells: ['a', 'b'] }] })).toThrow(RangeError)
  })

  test('print a link around a number that never breaks, and refuse an address that runs', () => {
    const html = renderer.render('words', words('see ', link('/work-orders/1', ref('2031-0188')), ', ', 'a < b'))
    expect(html).toBe('see <a href="/work-orders/1"><span class="ref">2031-0188</span></a>, a &lt; b')
    for (const href of ['javascript:alert(1)', '//elsewhere.example', 'data:text/html,x', ' /x']) {
      expect(() => link(href, 'x')).toThrow(RangeError)
    }
  })
})

test('/patterns shows every partial with every example, and every id once', () => {
  const html = renderer.render('patterns/index', {
    page: pageView(base, { title: 'Patterns' }),
    ...patternsView(templatesDir),
    key: 'k-1',
    version: null,
  })
  const ids = [...html.matchAll(/\sid="([^"]+)"/g)].map(match => match[1]!)
  expect(ids.length).toBeGreaterThan(80)
  expect(ids.filter((id, at) => ids.indexOf(id) !== at)).toEqual([])
  const known = new Set(ids)
  const named = [...html.matchAll(/aria-(?:labelledby|describedby)="([^"]+)"/g)].flatMap(match => match[1]!.split(' '))
  expect(named.filter(id => !known.has(id))).toEqual([])
  expect(html).not.toMatch(/NaN|undefined|Infinity|\[object/)
})

describe('loadAssets', () => {
  const assets = loadAssets(join(templatesDir, 'assets'))

  test('serves one style sheet whose fonts are all there', () => {
    const css = assets.get('app.css')!.content.toString('utf8')
    const fonts = [...css.matchAll(/url\("([^"]+)"\)/g)].map(match => match[1]!)
    expect(fonts).toHaveLength(6)
    for (const font of fonts) {
      expect(assets.get(font)?.type).toBe('font/woff2')
      // every WOFF2 file begins with this signature (W3C WOFF File Format 2.0, section 4.1)
      expect(assets.get(font)?.content.subarray(0, 4).toString('latin1')).toBe('wOF2')
    }
  })

  test.each(['../package.json', 'css/01-materials.css', '/etc/passwd', '', 'fonts/../app.css'])(
    'gives nothing for %j',
    path => {
      expect(assets.get(path)).toBeNull()
    },
  )

  test('has one hash for one content', () => {
    expect(loadAssets(join(templatesDir, 'assets')).hash).toBe(assets.hash)
    expect(assets.hash).toMatch(/^[0-9a-f]{16}$/)
  })
})
