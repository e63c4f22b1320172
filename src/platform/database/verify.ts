import Database from 'better-sqlite3'
import { Refusal } from '../refusal.ts'
import { auditedTables, SET_TABLES } from './audited-tables.ts'
import { canonical, type Row, setHash, sha256 } from './row-hash.ts'
import { structureFaults } from './structure.ts'
import { verifyChain } from './verify-chain.ts'
import type { Expected, Fault } from './verify-faults.ts'
import { verifySchema } from './verify-schema.ts'

/** Every row of a table against the newest event that covers it, and every covered row against the table. */
function verifyRows(raw: Database.Database, table: string): Fault[] {
  const faults: Fault[] = []
  const newest = raw
    .prepare('select row_sha256 from event_rows where table_name = ? and row_id = ? order by event_seq desc limit 1')
    .pluck()
  for (const row of raw.prepare(`select * from "${table}" order by id`).iterate() as Iterable<Row>) {
    const recorded = newest.get(table, row.id)
    if (recorded === undefined) {
      faults.push({ kind: 'unrecorded', says: `${table} ${row.id} was added without an event.` })
    } else if (recorded !== sha256(canonical(row))) {
      faults.push({ kind: 'edited', says: `${table} ${row.id} is not as its newest event recorded it.` })
    }
  }
  const missing = raw
    .prepare(
      `select distinct row_id from event_rows where table_name = ? and row_id not in (select id from "${table}")`,
    )
    .pluck()
  for (const id of missing.all(table))
    faults.push({ kind: 'missing', says: `${table} ${id} was recorded and is gone.` })
  return faults
}

function verifySets(raw: Database.Database, table: string, column: string): Fault[] {
  const owners = raw
    .prepare(
      `select "${column}" as owner, null as recorded from "${table}"
       where "${column}" is null or "${column}" not in (select row_id from event_rows where table_name = ?) group by "${column}"
       union all
       select row_id, row_sha256 from (select row_id, row_sha256, max(event_seq) from event_rows where table_name = ? group by row_id)`,
    )
    .all(table, table) as { owner: string; recorded: string | null }[]
  return owners.flatMap(({ owner, recorded }): Fault[] => {
    if (recorded === null)
      return [{ kind: 'unrecorded', says: `Rows of ${table} with ${column} ${owner} were added without an event.` }]
    if (recorded === setHash(raw, table, column, owner)) return []
    return [
      { kind: 'edited', says: `The rows of ${table} with ${column} ${owner} are not as their event recorded them.` },
    ]
  })
}

function verifyTables(raw: Database.Database): Fault[] {
  const tables = auditedTables(raw)
  const covered = new Set([...tables, ...Object.keys(SET_TABLES)])
  const named = raw.prepare('select distinct table_name from event_rows order by 1').pluck().all() as string[]
  return [
    ...named
      .filter(table => !covered.has(table))
      .map((table): Fault => ({ kind: 'missing', says: `The whole table ${table} was recorded and is gone.` })),
    ...tables.flatMap(table => verifyRows(raw, table)),
    ...Object.entries(SET_TABLES).flatMap(([table, column]) => verifySets(raw, table, column)),
  ]
}

/** The chain from its first link, and every row of the record against the chain. */
export function verifyRecord(raw: Database.Database, expected?: Expected): Fault[] {
  return [...verifyChain(raw, expected), ...verifyTables(raw)]
}

/** A damaged page, a table or a file that is not there, ends a reading half way: that is a finding, not a failure of the program. */
export function asFarAsReadable(look: () => Fault[]): Fault[] {
  try {
    return look()
  } catch (error) {
    if (error instanceof Refusal) return [error.message, ...error.lines].map(says => ({ kind: 'structure', says }))
    if (!(error instanceof Database.SqliteError)) throw error
    return [{ kind: 'structure', says: `It cannot be read to the end: ${error.message}.` }]
  }
}

/**
 * Everything that can be proved about a database by itself: the chain of events and every row against it (chain faults
 * come first, the first broken link foremost), its pages, its references, its schema. The newest events can be cut off
 * without a trace, so `expected`, the number and hash of an event as printed on paper or on a backup, is needed to find
 * that. An empty list: nothing is wrong.
 */
export function verify(raw: Database.Database, expected?: Expected): Fault[] {
  return [
    ...asFarAsReadable(() => verifyRecord(raw, expected)),
    ...asFarAsReadable(() => structureFaults(raw, 'integrity_check').map(says => ({ kind: 'structure', says }))),
    ...asFarAsReadable(() => verifySchema(raw)),
  ]
}
