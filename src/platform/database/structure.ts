import type Database from 'better-sqlite3'

interface BrokenReference {
  table: string
  rowid: number | null
  parent: string
}

/** What SQLite itself finds wrong with a database: damaged pages, broken CHECKs, references to rows that are not there. */
export function structureFaults(raw: Database.Database, how: 'quick_check' | 'integrity_check'): string[] {
  const pages = (raw.pragma(how) as Record<string, string>[])
    .flatMap(row => Object.values(row))
    .filter(text => text !== 'ok')
  const references = (raw.pragma('foreign_key_check') as BrokenReference[]).map(
    row => `a row of ${row.table} (rowid ${row.rowid ?? 'unknown'}) refers to a row of ${row.parent} that is not there`,
  )
  return [...pages, ...references]
}
