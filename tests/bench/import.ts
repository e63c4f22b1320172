import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { depsFor } from '../../src/cli/database.ts'
import { importHistory } from '../../src/history/index.ts'
import { type Context, contextFor } from '../../src/platform/context.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { USUAL, writeHistory } from './history.ts'
import { byTurns, type Measure, rates, secondsOf } from './measure.ts'

const ROUNDS = 3
const ROWS = 100_000
const GOAL = 0.3

/** The tables that an import fills, in the order in which their rows name each other. */
const TABLES = [
  'families',
  'operations',
  'components',
  'failure_modes',
  'vehicles',
  'history_imports',
  'history_events',
] as const

/**
 * Rows of a history file imported a second (read, checked, written, sealed into the record chain), against a plain insert of
 * the same rows into the same tables in one transaction. Both into a new database in a file.
 */
export async function measureImport(folder: string): Promise<Measure> {
  const history = path.join(folder, 'history.csv')
  const empty = path.join(folder, 'empty.db')
  const imported = path.join(folder, 'imported.db')
  writeHistory(history, { ...USUAL, rows: ROWS, seed: 1 })
  const empties = await openMigrated(empty)
  empties.close()
  const medians = await byTurns(
    ROUNDS,
    async () => {
      copyAfresh(empty, imported)
      const store = await openMigrated(imported)
      const seconds = secondsOf(() => importFile(contextFor(depsFor(store), null), history))
      store.close()
      return ROWS / seconds
    },
    () => {
      const plain = path.join(folder, 'plain.db')
      copyAfresh(empty, plain)
      return ROWS / plainInsert(imported, plain)
    },
  )
  return rates(`history rows imported, a second (${ROWS} rows)`, medians, GOAL)
}

export function importFile(ctx: Context, file: string): void {
  const result = importHistory(ctx, [{ name: path.basename(file), path: file }])
  if (!result.ok) throw new Error(`The history was refused: ${JSON.stringify(result.faults[0])}`)
}

function copyAfresh(from: string, to: string): void {
  for (const companion of ['', '-wal', '-shm']) fs.rmSync(to + companion, { force: true })
  fs.copyFileSync(from, to)
}

/** Seconds that it takes; reading the rows out of the imported database is not counted. */
function plainInsert(from: string, to: string): number {
  const source = new Database(from, { readonly: true })
  const target = new Database(to)
  target.pragma('journal_mode = WAL')
  target.pragma('synchronous = FULL')
  const loads = TABLES.map(table => {
    const select = source.prepare(`select * from ${table} order by rowid`).raw()
    const places = select.columns().map(() => '?')
    return { insert: target.prepare(`insert into ${table} values (${places.join(', ')})`), rows: select.all() }
  })
  const seconds = secondsOf(
    target.transaction(() => {
      target.pragma('defer_foreign_keys = on')
      for (const { insert, rows } of loads) for (const row of rows) insert.run(row)
    }),
  )
  source.close()
  target.close()
  return seconds
}
