import type Database from 'better-sqlite3'
import { migrate, migrationState } from './migrate.ts'
import { openStore } from './open.ts'
import type { Fault } from './verify-faults.ts'

function schemaOf(raw: Database.Database): Map<string, string> {
  const rows = raw.prepare("select type || ' ' || name as what, sql from sqlite_schema where sql is not null").all()
  return new Map((rows as { what: string; sql: string }[]).map(row => [row.what, row.sql]))
}

/**
 * The schema against a fresh one: without its triggers a database would let sealed records be changed from now on. An
 * older database is left for its next start, which migrates it.
 */
export function verifySchema(raw: Database.Database): Fault[] {
  if (migrationState(raw).pending > 0) return []
  const fresh = openStore(':memory:')
  try {
    migrate(fresh)
    const actual = schemaOf(raw)
    const wanted = schemaOf(fresh.raw)
    const names = [...new Set([...wanted.keys(), ...actual.keys()])].sort()
    return names.flatMap((what): Fault[] => {
      if (!actual.has(what)) return [{ kind: 'schema', says: `The ${what} is missing.` }]
      if (!wanted.has(what)) return [{ kind: 'schema', says: `The ${what} is not of this program.` }]
      return actual.get(what) === wanted.get(what) ? [] : [{ kind: 'schema', says: `The ${what} has been changed.` }]
    })
  } finally {
    fresh.close()
  }
}
