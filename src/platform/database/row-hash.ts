import { createHash } from 'node:crypto'
import type Database from 'better-sqlite3'
import { hot } from './hot.ts'

export type Row = Record<string, string | number | null>

export function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex')
}

/**
 * A row as text that stays the same for as long as the row does: names in order, NULLs left out, so that a column which
 * a later migration adds (always NULL in old rows) leaves every hash as it was.
 */
export function canonical(row: Row): string {
  const names = Object.keys(row)
    .filter(name => row[name] !== null)
    .sort()
  return JSON.stringify(names.map(name => [name, row[name]]))
}

/** The statement that reads one row by its id, for each table that was asked for. */
const rowReaders = hot((_: Database.Database) => new Map<string, Database.Statement>())

function rowReader(raw: Database.Database, table: string): Database.Statement {
  const readers = rowReaders(raw)
  const known = readers.get(table)
  if (known !== undefined) return known
  const reader = raw.prepare(`select * from "${table}" where id = ?`)
  readers.set(table, reader)
  return reader
}

export function rowHash(raw: Database.Database, table: string, id: string): string | null {
  const row = rowReader(raw, table).get(id) as Row | undefined
  return row === undefined ? null : sha256(canonical(row))
}

/** Characters that are handed to the hash at once: a call for each line would take longer than the hashing. */
const LINES_TOGETHER = 65_536

/**
 * The hash of a whole set of rows, in the order in which they were written: `canonical` of each and a line end. Sets are
 * large, so the names are put in order once and not once a row.
 */
export function setHash(raw: Database.Database, table: string, column: string, owner: string): string {
  const statement = raw.prepare(`select * from "${table}" where "${column}" = ? order by rowid`).raw()
  const cells = statement
    .columns()
    .map(({ name }, place) => ({ name, place, text: `[${JSON.stringify(name)},` }))
    .sort((a, b) => (a.name < b.name ? -1 : 1))
  const hash = createHash('sha256')
  let waiting = ''
  for (const row of statement.iterate(owner) as IterableIterator<Row[string][]>) {
    let line = ''
    for (const { place, text } of cells) {
      const value = row[place]!
      if (value !== null) line += `${line === '' ? '' : ','}${text}${JSON.stringify(value)}]`
    }
    waiting += `[${line}]\n`
    if (waiting.length > LINES_TOGETHER) {
      hash.update(waiting)
      waiting = ''
    }
  }
  return hash.update(waiting).digest('hex')
}
