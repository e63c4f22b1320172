import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import type Database from 'better-sqlite3'
import { allTables, CHAIN_TABLES, SET_TABLES } from '../../src/platform/database/audited-tables.ts'
import { recordEvent } from '../../src/platform/database/events.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import type { TestContext } from './database.ts'

export type Value = string | number | null

export interface Column {
  name: string
  type: string
  notnull: number
  pk: number
}

export function columnsOf(raw: Database.Database, table: string): Column[] {
  return raw.prepare('select name, type, "notnull", pk from pragma_table_info(?)').all(table) as Column[]
}

/** Text that a careless format would change: what looks like a number, what CSV must quote, what is not ASCII. */
const AWKWARD = [
  '5',
  '007',
  '1e5',
  'null',
  'a,b',
  'say "so"',
  'two\nlines',
  'cr\r\nlf',
  ' padded ',
  'Größe ½″',
  '=1+1',
  '\ufeffmark',
  "it's",
]
const NUMBERS = [0, 1, 2, 7, 120, 9_007_199_254_740_991]
const REALS = [0, 0.1, 1, 2.5, 7.3e-9, 120.25, 1e21]
const DAYS = ['2031-01-31', '2031-03-03', '2032-02-29']
/** The bytes of attachments: rows name them by their SHA-256. */
export const PICTURES = ['a picture', 'another picture']
const HASHES = PICTURES.map(sha256)
const JSON_TEXTS = ['[]', '["a","b"]', '{"x":1.5}']

/** The same choices every time (mulberry32). */
function chooser(seed: number): <T>(from: readonly T[]) => T {
  let state = seed
  return from => {
    state = (state + 0x6d2b79f5) | 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return from[((t ^ (t >>> 14)) >>> 0) % from.length]!
  }
}

/** The values that the table's own CHECKs name for a column, else awkward ones of its type. */
function valuesFor(sql: string, column: Column): readonly Value[] {
  const compared = [...sql.matchAll(new RegExp(`"${column.name}" = '([^']*)'`, 'g'))].map(([, word]) => word!)
  if (compared.length > 0) return compared
  const words = new RegExp(`"${column.name}" in \\(([^)]*)\\)`).exec(sql)?.[1]
  if (words !== undefined) {
    return words.split(', ').map(word => (word.startsWith("'") ? word.slice(1, -1) : Number(word)))
  }
  if (sql.includes(`date("`) && new RegExp(`date\\("[^"]+"\\."${column.name}"\\)`).test(sql)) return DAYS
  if (new RegExp(`json_valid\\("[^"]+"\\."${column.name}"\\)`).test(sql)) return JSON_TEXTS
  if (sql.includes(`length("${/^create table [`"](\w+)/i.exec(sql)?.[1]}"."${column.name}") = 64`)) return HASHES
  if (column.type === 'INTEGER') return NUMBERS
  return column.type === 'REAL' ? REALS : AWKWARD
}

/**
 * Inserts row `n` of a table with values that its constraints allow, found by trying; references name row `n` of their
 * table. So a table that is added tomorrow is filled too.
 */
export function insertAnyRow(raw: Database.Database, table: string, n: number): void {
  const sql = raw.prepare('select sql from sqlite_schema where name = ?').pluck().get(table) as string
  const columns = columnsOf(raw, table)
  const references = new Map(
    (
      raw.prepare('select "from", "table" from pragma_foreign_key_list(?)').all(table) as {
        from: string
        table: string
      }[]
    ).map(reference => [reference.from, reference.table]),
  )
  const choose = chooser(n * 1000 + table.length)
  const insert = raw.prepare(
    `insert into "${table}" (${columns.map(column => `"${column.name}"`)}) values (${columns.map(() => '?')})`,
  )
  const value = (column: Column): Value => {
    if (column.pk === 1 && column.type === 'INTEGER') return n
    if (column.pk === 1 && !references.has(column.name)) return table === 'settings' ? 'workshop' : `${table}-${n}`
    const parent = references.get(column.name)
    const filled = parent === undefined ? choose(valuesFor(sql, column)) : `${parent}-${n}`
    return column.notnull === 0 && choose([true, false, false]) ? null : filled
  }
  for (let attempt = 0; attempt < 5000; attempt += 1) {
    try {
      insert.run(columns.map(value))
      return
    } catch (error) {
      if (!String((error as { code?: string }).code).startsWith('SQLITE_CONSTRAINT')) throw error
    }
  }
  throw new Error(`No row of ${table} was found that its constraints allow`)
}

export function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}

/** Puts the files that attachments name into their folder. */
function layFiles({ store }: TestContext): void {
  fs.mkdirSync(store.files, { recursive: true })
  const named = store.raw.prepare('select distinct sha256 from attachments').pluck().all() as string[]
  for (const picture of PICTURES.filter(each => named.includes(sha256(each)))) {
    fs.writeFileSync(path.join(store.files, sha256(picture)), picture)
  }
}

/**
 * Two rows in every table, by way of `write` and with their events, as if services had written them, and the files that
 * attachments name.
 */
export function fillEveryTable(ctx: TestContext): void {
  const { raw } = ctx.store
  const tables = allTables(raw).filter(table => !CHAIN_TABLES.includes(table))
  write(ctx, tx => {
    raw.pragma('defer_foreign_keys = ON')
    for (const table of tables) {
      for (const n of table === 'settings' ? [1] : [1, 2]) insertAnyRow(raw, table, n)
    }
    for (const [table, column] of Object.entries(SET_TABLES)) {
      for (const owner of raw.prepare(`select distinct "${column}" from "${table}"`).pluck().all() as string[]) {
        const set = { table, column, owner }
        recordEvent(ctx, tx, {
          action: 'everything.written',
          table: 'settings',
          id: 'workshop',
          detail: { note: 'a, "b"' },
          set,
        })
        ctx.clock.set(ctx.clock.now() + 1000)
      }
    }
  })
  layFiles(ctx)
}
