import fs from 'node:fs'
import Database from 'better-sqlite3'
import { Refusal } from '../refusal.ts'
import { allTables } from './audited-tables.ts'
import { chainHead } from './events.ts'
import { renameForGood, syncToDisk, withCompanions } from './files.ts'
import { structureFaults } from './structure.ts'

export interface Copied {
  rows: number
  head: { seq: number; hash: string }
}

/** SQLite's page count is 31 bits: this asks for all pages in one step. */
const ALL_PAGES = 0x7fffffff

function tally(raw: Database.Database): { counts: Record<string, number>; head: Copied['head'] } {
  const counts = allTables(raw).map(table => [table, raw.prepare(`select count(*) from "${table}"`).pluck().get()])
  return { counts: Object.fromEntries(counts), head: chainHead(raw) }
}

function checkedTally(file: string): ReturnType<typeof tally> {
  const copy = new Database(file)
  try {
    copy.pragma('journal_mode = DELETE') // the copy comes in WAL mode and would otherwise be three files
    const faults = structureFaults(copy, 'quick_check')
    if (faults.length > 0) throw new Refusal('The copy is damaged; nothing was kept of it.', faults)
    return tally(copy)
  } finally {
    copy.close()
  }
}

/**
 * Copies a database that may be in use into one file, checks the copy against what was there at that moment, and only
 * then gives it its name. All pages are taken in one step inside one read transaction: another process that goes on
 * writing neither waits nor makes the copy begin again.
 */
export async function copyDatabase(raw: Database.Database, target: string): Promise<Copied> {
  const temporary = `${target}.tmp`
  const discard = () => {
    for (const file of withCompanions(temporary)) fs.rmSync(file, { force: true })
  }
  discard()
  raw.exec('begin')
  try {
    const before = tally(raw)
    await raw.backup(temporary, { progress: () => ALL_PAGES })
    const after = checkedTally(temporary)
    if (JSON.stringify(after) !== JSON.stringify(before)) {
      throw new Refusal('The copy does not hold the rows that the database holds; nothing was kept of it.')
    }
    syncToDisk(temporary)
    renameForGood(temporary, target)
    return { rows: Object.values(after.counts).reduce((sum, count) => sum + count, 0), head: after.head }
  } finally {
    raw.exec('rollback')
    discard()
  }
}
