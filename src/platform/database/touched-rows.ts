import type Database from 'better-sqlite3'
import { auditedTables } from './audited-tables.ts'

interface TouchedRow {
  table_name: string
  row_id: string
}

/** What one connection has written into audited tables. */
interface Notes {
  /** Rows that no event covers yet. */
  rows: Map<string, TouchedRow>
  /** Every row that was ever written counts one, also when it was rolled back. */
  count: number
  /** What `count` was when a row of a table was last written. */
  last: Map<string, number>
  /** What `count` was when the transaction began. */
  at_begin: number
}

const ofConnection = new WeakMap<Database.Database, Notes>()

/** A connection that is dressed up (`Object.create(raw)`) has the notes of the one beneath; undefined where nobody watches. */
function notesOf(raw: Database.Database): Notes | undefined {
  for (let beneath: Database.Database | null = raw; beneath !== null; beneath = Object.getPrototypeOf(beneath)) {
    const notes = ofConnection.get(beneath)
    if (notes !== undefined) return notes
  }
  return undefined
}

/**
 * Notes every row that this connection inserts or updates in an audited table, so that an event can cover all of them
 * and none can be forgotten. The triggers are temporary: they belong to the connection, not to the file.
 */
export function watchAuditedTables(raw: Database.Database): void {
  if (!ofConnection.has(raw)) {
    const notes: Notes = { rows: new Map(), count: 0, last: new Map(), at_begin: 0 }
    ofConnection.set(raw, notes)
    raw.function('note_row', (table_name: string, row_id: string) => {
      notes.count += 1
      notes.last.set(table_name, notes.count)
      notes.rows.set(`${table_name} ${row_id}`, { table_name, row_id })
      return null
    })
  }
  for (const table of auditedTables(raw)) {
    for (const verb of ['insert', 'update']) {
      raw.exec(
        `create temp trigger if not exists "touched_${table}_${verb}" after ${verb} on main."${table}"
         begin select note_row('${table}', new.id); end`,
      )
    }
  }
}

export function unrecordedRows(raw: Database.Database): TouchedRow[] {
  return [...(notesOf(raw)?.rows.values() ?? [])]
}

/** After the event that covers them, after a rollback, and for the one loader that brings rows together with their events. */
export function forgetTouched(raw: Database.Database): void {
  notesOf(raw)?.rows.clear()
}

/** For whoever begins a transaction, as its first act. */
export function noteBegin(raw: Database.Database): void {
  const notes = notesOf(raw)
  if (notes !== undefined) notes.at_begin = notes.count
}

/** How many rows this connection has written into audited tables, rolled back or not. */
export function writesNoted(raw: Database.Database): number {
  return notesOf(raw)?.count ?? 0
}

/** A number that grows with each row that this connection writes into any of these tables. */
export function lastWriteTo(raw: Database.Database, tables: readonly string[]): number {
  const last = notesOf(raw)?.last
  return last === undefined ? 0 : Math.max(0, ...tables.map(table => last.get(table) ?? 0))
}

/** Whether the transaction that is under way has written into any of these tables. */
export function hasWrittenTo(raw: Database.Database, tables: readonly string[]): boolean {
  const notes = notesOf(raw)
  return notes !== undefined && raw.inTransaction && lastWriteTo(raw, tables) > notes.at_begin
}
