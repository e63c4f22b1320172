import fs from 'node:fs'
import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { packageRoot } from '../../src/platform/paths.ts'
import * as fixture from './fixture.ts'
import { CAPABILITIES } from './rules.ts'
import { brokenImports, cycles, foreignWrites, importsOf, isImpure, leftovers, readTree, ruleOf } from './scan.ts'

const LONGEST_FILE = 300

const src = readTree(packageRoot, 'src')
const others = new Map([...readTree(packageRoot, 'seed'), ...readTree(packageRoot, 'tests')])

describe('the scan itself', () => {
  test.each(fixture.BROKEN_IMPORTS)('finds what $file may not import: $text', ({ file, text }) => {
    expect(importsOf(text)).toHaveLength(1)
    expect(brokenImports(file, text)).toEqual(importsOf(text))
  })

  test.each(fixture.ALLOWED_IMPORTS)('allows what $file may import', ({ file, text }) => {
    expect(brokenImports(file, text)).toEqual([])
  })

  test('finds a ring of imports, types among them, and tells it once', () => {
    expect(cycles(fixture.RING)).toEqual([['src/core/a.ts', 'src/core/b.ts', 'src/core/deep/c.ts', 'src/core/a.ts']])
  })

  test('finds clock, chance, environment and console, and not words about them', () => {
    expect(fixture.IMPURE.filter(text => !isImpure(text))).toEqual([])
    expect(fixture.PURE.filter(isImpure)).toEqual([])
  })

  test.each(fixture.FOREIGN_WRITES)('finds the write to another folder’s table in $text', ({ file, text }) => {
    expect(foreignWrites(file, text, fixture.SCHEMA_TREE)).toHaveLength(1)
  })

  test.each(fixture.OWN_WRITES)('leaves what $file may write', ({ file, text }) => {
    expect(foreignWrites(file, text, fixture.SCHEMA_TREE)).toEqual([])
  })
})

describe('the sources', () => {
  test('lie in folders that have a place in the order', () => {
    expect([...src.keys()].filter(file => ruleOf(file) === 'nowhere')).toEqual([])
    const folders = fs
      .readdirSync(path.join(packageRoot, 'src'), { withFileTypes: true })
      .filter(entry => entry.isDirectory())
    expect(folders.map(entry => entry.name).sort()).toEqual([...CAPABILITIES, 'cli', 'core', 'platform'].sort())
  })

  test.each([...src])('%s imports only what its place allows', (file, text) => {
    expect(brokenImports(file, text), `${file} is a ${ruleOf(file)}; see DEVELOPERS.md, "Who may import whom"`).toEqual(
      [],
    )
  })

  test('import in no ring', () => {
    expect(cycles(src)).toEqual([])
  })

  test('touch no clock, chance, environment or console in core', () => {
    const core = [...src].filter(([file]) => file.startsWith('src/core/'))
    expect(core.length).toBeGreaterThan(30)
    expect(core.filter(([, text]) => isImpure(text)).map(([file]) => file)).toEqual([])
  })

  test('write only the tables of their own folder', () => {
    const broken = [...src].flatMap(([file, text]) =>
      foreignWrites(file, text, src).map(table => `${file} writes ${table}`),
    )
    expect(broken).toEqual([])
  })

  test(`are of at most ${LONGEST_FILE} lines a file`, () => {
    const long = [...src, ...others].map(([file, text]): [string, number] => [file, text.split('\n').length - 1])
    expect(long.filter(([, lines]) => lines > LONGEST_FILE)).toEqual([])
  })

  test('switch no check and no test off, and leave no notes to oneself', () => {
    expect([...src, ...others].flatMap(([file, text]) => leftovers(text).map(found => `${file}: ${found}`))).toEqual([])
  })
})

test('DEVELOPERS.md tells the order that is enforced', () => {
  const text = fs.readFileSync(path.join(packageRoot, 'DEVELOPERS.md'), 'utf8')
  const order = /^core(?:\s*<- [a-z-]+)+/m.exec(text)?.[0]
  expect(order?.split('<-').map(name => name.trim())).toEqual(['core', 'platform', ...CAPABILITIES])
})
