import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import { parse } from 'csv-parse/sync'
import { describe, expect, test } from 'vitest'
import { exportAll, importAll } from '../../src/exchange/index.ts'
import { fileSha256, namedAttachments } from '../../src/platform/database/attachments.ts'
import { allTables, UNAUDITED_TABLES } from '../../src/platform/database/audited-tables.ts'
import { chainHead } from '../../src/platform/database/events.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { unrecordedRows } from '../../src/platform/database/touched-rows.ts'
import { verify } from '../../src/platform/database/verify.ts'
import { verifyFile } from '../../src/platform/database/verify-file.ts'
import { Refusal } from '../../src/platform/refusal.ts'
import { columnsOf, fillEveryTable } from '../support/any-row.ts'
import { temporaryFolder, testContext } from '../support/database.ts'

/** An export of a database with rows in every table and the files of its attachments. */
async function exported() {
  const folder = temporaryFolder()
  const file = path.join(folder, 'shop.db')
  const store = await openMigrated(file)
  fillEveryTable(testContext({ store }))
  const attachment = namedAttachments(store.raw)[0]!
  const out = path.join(folder, 'out')
  const manifest = exportAll(file, out)
  const rows = Object.fromEntries(
    manifest.tables.map(({ name }) => [name, store.raw.prepare(`select * from "${name}"`).all()]),
  )
  const head = chainHead(store.raw)
  const columns = Object.fromEntries(manifest.tables.map(({ name }) => [name, columnsOf(store.raw, name)]))
  store.close()
  return { folder, file, out, manifest, rows, columns, head, attachment }
}

async function emptyDatabase() {
  const file = path.join(temporaryFolder(), 'empty.db')
  return { file, store: await openMigrated(file) }
}

function bytesOf(folder: string): Record<string, string> {
  const names = fs.readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()
  const files = names.filter(name => fs.statSync(path.join(folder, name)).isFile())
  return Object.fromEntries(files.map(name => [name, fs.readFileSync(path.join(folder, name), 'base64')]))
}

/** Changes an exported file and puts its SHA-256 in the manifest right, as somebody would who wants it to be taken. */
function rewrite(out: string, table: string, change: (text: string) => string): void {
  const file = path.join(out, `${table}.json`)
  const text = change(fs.readFileSync(file, 'utf8'))
  fs.writeFileSync(file, text)
  const manifestFile = path.join(out, 'manifest.json')
  const manifest = JSON.parse(fs.readFileSync(manifestFile, 'utf8')) as {
    tables: { name: string; json_sha256: string }[]
  }
  manifest.tables.find(entry => entry.name === table)!.json_sha256 = createHash('sha256').update(text).digest('hex')
  fs.writeFileSync(manifestFile, JSON.stringify(manifest))
}

async function refusedImport(out: string): Promise<Refusal> {
  const { file, store } = await emptyDatabase()
  try {
    importAll(store, file, out)
  } catch (error) {
    expect(error).toBeInstanceOf(Refusal)
    expect(store.raw.prepare('select count(*) from people').pluck().get()).toBe(0)
    return error as Refusal
  } finally {
    store.close()
  }
  throw new Error('the import was not refused')
}

describe('export and import all', () => {
  test('export, import into an empty database and export again give the same bytes in every file', async () => {
    const { out, head } = await exported()
    const { file, store } = await emptyDatabase()
    importAll(store, file, out)
    expect(verify(store.raw, head)).toEqual([])
    expect(unrecordedRows(store.raw)).toEqual([])
    const again = path.join(temporaryFolder(), 'again')
    exportAll(file, again)
    expect(bytesOf(again)).toEqual(bytesOf(out))
    store.close()
  })

  test('exports every table but those with secrets and answers of the moment', async () => {
    const { out, manifest, attachment } = await exported()
    const { store } = await emptyDatabase()
    const wanted = allTables(store.raw).filter(table => !UNAUDITED_TABLES.includes(table))
    store.close()
    expect(manifest.tables.map(table => table.name)).toEqual(wanted)
    expect(manifest.tables.filter(table => table.rows === 0)).toEqual([])
    expect(UNAUDITED_TABLES).toEqual(['sessions', 'api_tokens', 'setup_links', 'stored_answers'])
    expect(fs.existsSync(path.join(out, 'sessions.csv'))).toBe(false)
    expect(manifest.attachments).toContain(attachment)
    expect(fileSha256(path.join(out, 'attachments', attachment))).toBe(attachment)
  })

  test('loses nothing in CSV: text stays text, numbers stay exact, nothing stays nothing', async () => {
    const { out, rows, columns } = await exported()
    for (const [table, original] of Object.entries(rows)) {
      const types = new Map(columns[table]!.map(column => [column.name, column.type]))
      const read: Record<string, unknown>[] = parse(fs.readFileSync(path.join(out, `${table}.csv`)), {
        columns: true,
        record_delimiter: '\r\n',
        cast: (value, { header, quoting, column }) => {
          if (header || quoting) return value
          return value === '' ? null : types.get(String(column)) === 'TEXT' ? 'unquoted text' : Number(value)
        },
      })
      const sorted = (list: unknown[]) => list.map(row => JSON.stringify(row)).sort()
      expect(sorted(read), table).toEqual(sorted(original))
    }
  })

  test('says the same in CSV and in JSON, one row to a line', async () => {
    const { out, rows } = await exported()
    for (const [table, original] of Object.entries(rows)) {
      const text = fs.readFileSync(path.join(out, `${table}.json`), 'utf8')
      expect(text.split('\n')).toHaveLength(original.length + 3)
      expect((JSON.parse(text) as unknown[]).length).toBe(original.length)
      expect(JSON.parse(text)).toEqual(expect.arrayContaining(original))
    }
  })
})

describe('exportAll', () => {
  test('refuses a folder with something in it, a file, and a database that is not there', async () => {
    const { folder, file, out } = await exported()
    expect(() => exportAll(file, out)).toThrow(/not empty/)
    expect(() => exportAll(file, file)).toThrow(/is a file/)
    expect(() => exportAll(path.join(folder, 'none.db'), `${out}2`)).toThrow(/no database/)
    expect(fs.readdirSync(folder).sort()).toEqual(['out', 'shop.db', 'shop.db.files'])
  })
})

describe('attachments', () => {
  test('come back with their rows, byte for byte', async () => {
    const { out, manifest } = await exported()
    const { file, store } = await emptyDatabase()
    importAll(store, file, out)
    const names = namedAttachments(store.raw)
    store.close()
    expect(names.length).toBeGreaterThan(0)
    expect(manifest.attachments).toEqual(names)
    expect(fs.readdirSync(`${file}.files`).sort()).toEqual(names)
    for (const name of names) expect(fileSha256(path.join(`${file}.files`, name))).toBe(name)
    expect(verifyFile(file)).toMatchObject({ faults: [], attachments: names.length })
  })

  test('that are missing or damaged are named; all the rest is exported, and is not taken in again', async () => {
    const { folder, file, attachment } = await exported()
    fs.writeFileSync(path.join(`${file}.files`, attachment), 'something else')
    const out = path.join(folder, 'without')
    let refused: unknown
    try {
      exportAll(file, out)
    } catch (error) {
      refused = error
    }
    expect(refused).toMatchObject({ message: expect.stringContaining('Everything else was exported') })
    expect((refused as Refusal).lines).toEqual([expect.stringMatching(new RegExp(`${attachment} is not what`))])
    expect(fs.existsSync(path.join(out, 'people.csv'))).toBe(true)
    expect((await refusedImport(out)).lines).toContainEqual(expect.stringContaining(`${attachment} was missing`))
  })
})

describe('importAll', () => {
  test('refuses a database that has rows', async () => {
    const { file, out } = await exported()
    const store = await openMigrated(file)
    expect(() => importAll(store, file, out)).toThrow(/has rows already/)
    store.close()
  })

  test('names every file that is missing, changed or too many', async () => {
    const { out, attachment } = await exported()
    fs.rmSync(path.join(out, 'people.csv'))
    fs.appendFileSync(path.join(out, 'parts.json'), ' ')
    fs.writeFileSync(path.join(out, 'more.csv'), 'id\r\n')
    fs.writeFileSync(path.join(out, 'attachments', attachment), 'something else')
    expect((await refusedImport(out)).lines).toEqual([
      'parts.json is not the file that was exported: its SHA-256 differs.',
      'people.csv is missing.',
      `attachments/${attachment} is not the file that was exported: its SHA-256 differs.`,
      'more.csv is not named in the manifest.',
    ])
  })

  test('names every bad row by file, line and column', async () => {
    const { out } = await exported()
    rewrite(out, 'variants', text => text.replace('"variants-1","created_at":', '"variants-1","created_at":"5","x":'))
    rewrite(out, 'suppliers', text => text.replace('{"id":"suppliers-2"', '{id:"suppliers-2"'))
    rewrite(out, 'people', text => text.replace('"kind":"', '"kind":"x'))
    expect((await refusedImport(out)).lines).toEqual([
      expect.stringMatching(/^people\.json: line 2, CHECK constraint failed: kind_word/),
      'suppliers.json: line 3, this is not a row',
      'variants.json: line 2, column created_at: "5" is not of type INTEGER',
      'variants.json: line 2, column x: the table has no such column',
    ])
  })

  test('refuses a row that was changed by hand, though its file says otherwise', async () => {
    const { out } = await exported()
    rewrite(out, 'jobs', text => text.replace('"letter":"', '"letter":"Z'))
    expect((await refusedImport(out)).lines).toEqual(['jobs jobs-1 is not as its newest event recorded it.'])
  })

  test('refuses rows that are missing, and references to rows that are not there', async () => {
    const { out } = await exported()
    rewrite(out, 'wrenches', text => text.replace(/\{"id":"wrenches-2".*\n/, '').replace(/,\n\]/, '\n]'))
    const { lines } = await refusedImport(out)
    expect(lines).toContain('wrenches.json has 1 rows; the manifest says 2.')
    const other = await exported()
    rewrite(other.out, 'calibrations', text => text.replace('"wrench_id":"wrenches-1"', '"wrench_id":"wrenches-9"'))
    const { lines: references } = await refusedImport(other.out)
    expect(references[0]).toMatch(/^a row of calibrations .* refers to a row of wrenches that is not there$/)
  })

  test('refuses the export of a newer version, and a folder that is none', async () => {
    const { out, folder } = await exported()
    const manifestFile = path.join(out, 'manifest.json')
    const manifest = JSON.parse(fs.readFileSync(manifestFile, 'utf8')) as { migrations: string[] }
    fs.writeFileSync(
      manifestFile,
      JSON.stringify({ ...manifest, migrations: [...manifest.migrations, '0'.repeat(64)] }),
    )
    expect((await refusedImport(out)).lines[0]).toMatch(/newer version/)
    fs.writeFileSync(manifestFile, JSON.stringify({ ...manifest, version: 2 }))
    expect((await refusedImport(out)).lines[0]).toMatch(/manifest\.json: version/)
    fs.writeFileSync(manifestFile, '{')
    expect((await refusedImport(out)).message).toMatch(/cannot be read/)
    expect((await refusedImport(folder)).message).toMatch(/is no export/)
  })
})
