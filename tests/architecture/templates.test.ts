import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { allPatterns, headerOf } from '../../src/platform/pages/patterns.ts'
import { templateFiles } from '../../src/platform/pages/renderer.ts'
import { packageRoot } from '../../src/platform/paths.ts'

const templatesDir = join(packageRoot, 'templates')
const files = templateFiles(templatesDir).map(({ name, file }) => ({ name, file, source: readFileSync(file, 'utf8') }))
const partials = files.filter(({ file }) => file.includes(join('templates', 'partials')))

/** What is only ever part of another partial, or of the layout, and so has no example of its own. */
const INNER = [
  'bolt-key',
  'choices',
  'control',
  'drawing',
  'field-notes',
  'field-state',
  'form-key',
  'place',
  'places',
  'places-bench',
  'section',
  'title',
]

/** Each rule: what it forbids, how it is found in the source without comments, and a line that breaks it. */
const RULES: { name: string; finds: (source: string) => readonly string[] | null; breaks: string }[] = [
  { name: 'prints nothing unescaped', finds: source => source.match(/\{\{\{|\{\{~?&/), breaks: '<p>{{{note}}}</p>' },
  {
    name: 'quotes every attribute',
    finds: source =>
      bare(source)
        .replace(/"[^"]*"/g, '""')
        .match(/<[a-zA-Z][^>]*=(?!")[^>]*/),
    breaks: '<input value={{value}}>',
  },
  {
    name: 'has no style attribute',
    finds: source => bare(source).match(/\sstyle\s*=/),
    breaks: '<p style="color: red">',
  },
  { name: 'has no style sheet of its own', finds: source => source.match(/<style/i), breaks: '<style>p {}</style>' },
  {
    name: 'has no event attribute',
    finds: source => bare(source).match(/<[^>]*\son\w+\s*=/i),
    breaks: '<a onclick="go()">',
  },
  {
    name: 'has no script of its own',
    finds: source => bare(source).match(/<script(?![^>]*\ssrc=)[^>]*>/i),
    breaks: '<script>go()</script>',
  },
  {
    name: 'gives every partial what it is to print',
    finds: source =>
      source
        .match(/\{\{> (?!@)[\w/-]+\s*\}\}/g)
        ?.filter(call => !TAKES_NOTHING.test(call))
        .slice(0, 1) ?? null,
    breaks: '{{> table}}',
  },
  {
    // each copies the list of all templates whenever its page is asked for
    name: 'has no inline partial',
    finds: source => source.match(/\{\{#\*inline/),
    breaks: '{{#*inline "notice"}}{{/inline}}',
  },
]
/** These two read nothing, or what every view has. */
const TAKES_NOTHING = /> (?:bolt-key|form-key)\s*\}\}/

/** Markup with each mustache replaced by a mark, so that what stands inside mustaches is not taken for attributes. */
function bare(source: string): string {
  return source.replace(/\{\{[\s\S]*?\}\}/g, '§')
}

function withoutComments(source: string): string {
  return source.replace(/\{\{!--[\s\S]*?--\}\}/g, '').replace(/\{\{![\s\S]*?\}\}/g, '')
}

describe.each(RULES)('a template $name', ({ finds, breaks }) => {
  test('and the rule finds a line that breaks it', () => expect(finds(breaks)).not.toBeNull())
  test.each(files)('$name', ({ source }) => expect(finds(withoutComments(source))?.[0]).toBeUndefined())
})

test.each(files)('$name includes only what exists', ({ source }) => {
  const names = new Set(files.map(each => each.name))
  const called = [...withoutComments(source).matchAll(/\{\{~?#?> ([\w/-]+)/g)].map(match => match[1]!)
  expect(called.filter(name => !names.has(name))).toEqual([])
})

test.each(files)('$name stays under 300 lines and says at its head what it takes', ({ source }) => {
  expect(source.split('\n').length).toBeLessThanOrEqual(300)
  expect(headerOf(source), 'begin the file with {{!-- name: what it is. Parameters or View: ... --}}').not.toBe('')
})

test.each(partials)('partial $name stands on /patterns or is part of one that does', ({ name }) => {
  const shown = allPatterns().map(pattern => pattern.partial)
  expect([...shown, ...INNER]).toContain(name)
  expect(shown.includes(name) && INNER.includes(name)).toBe(false)
})
