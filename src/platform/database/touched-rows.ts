import type Database from 'better-sqlite3'
import { auditedTables } from './audited-tables.ts'
import { hot } from './hot.ts'

interface TouchedRow {
  table_name: string
  row_id: string
}

/**
 * Notes every row that this connection inserts or updates in an audited table, so that an event can cover all of them
 * and none can be forgotten. The triggers are temporary: they belong to the connection, not to the file. (No "or ignore":
 * inside a trigger the conflict rule of the outer statement counts, and that of an upsert is to abort.)
 */
export function watchAuditedTables(raw: Database.Database): void {
  raw.exec(
    'create temp table if not exists touched (table_name text not null, row_id text not null, primary key (table_name, row_id)) without rowid',
  )
  for (const table of auditedTables(raw)) {
    for (const verb of ['insert', 'update']) {
      raw.exec(
        `create temp trigger if not exists "touched_${table}_${verb}" after ${verb} on main."${table}"
         when not exists (select 1 from touched where table_name = '${table}' and row_id = new.id)
         begin insert into touched values ('${table}', new.id); end`,
      )
    }
  }
}

const touchedRows = hot((raw: Database.Database) => raw.prepare('select table_name, row_id from touched'))
const forget = hot((raw: Database.Database) => raw.prepare('delete from touched'))

export function unrecordedRows(raw: Database.Database): TouchedRow[] {
  return touchedRows(raw).all() as TouchedRow[]
}

/** For the one loader that brings rows together with the events that already cover them. */
export function forgetTouched(raw: Database.Database): void {
  forget(raw).run()
}
