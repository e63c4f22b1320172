import type Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { allTables, UNAUDITED_TABLES } from '../../src/platform/database/audited-tables.ts'
import { chainHead, eventHash } from '../../src/platform/database/events.ts'
import { rowHash } from '../../src/platform/database/row-hash.ts'
import { verify, verifyRecord } from '../../src/platform/database/verify.ts'
import { type Column, columnsOf, fillEveryTable, type Value } from '../support/any-row.ts'
import { testContext } from '../support/database.ts'

/** A database with rows in every table whose guards are off: whoever has the file can do that. */
function unguarded(): Database.Database {
  const ctx = testContext()
  fillEveryTable(ctx)
  const { raw } = ctx.store
  raw.pragma('foreign_keys = OFF')
  raw.pragma('ignore_check_constraints = ON')
  const guards = raw
    .prepare("select type, name from sqlite_schema where type = 'trigger' or (type = 'index' and sql is not null)")
    .all()
  for (const { type, name } of guards as { type: string; name: string }[]) raw.exec(`drop ${type} "${name}"`)
  return raw
}

function exportedTables(raw: Database.Database): string[] {
  return allTables(raw).filter(table => !UNAUDITED_TABLES.includes(table))
}

/** One row of a table to tamper with: the fullest. */
function fullestRow(raw: Database.Database, table: string): Record<string, Value> {
  const rows = raw.prepare(`select * from "${table}"`).all() as Record<string, Value>[]
  const known = (row: Record<string, Value>) => Object.values(row).filter(value => value !== null).length
  return rows.sort((a, b) => known(b) - known(a))[0]!
}

/** Names one row by its key, and the values of that key. */
function itself(raw: Database.Database, table: string, row: Record<string, Value>): { where: string; key: Value[] } {
  const keys = columnsOf(raw, table).filter(column => column.pk > 0)
  return { where: keys.map(({ name }) => `"${name}" = ?`).join(' and '), key: keys.map(({ name }) => row[name]!) }
}

/** What the record says after something was done to it, which is then taken back. */
function faultsAfter(raw: Database.Database, tamper: () => void) {
  raw.exec('savepoint tampering')
  try {
    tamper()
    return verifyRecord(raw)
  } finally {
    raw.exec('rollback to tampering; release tampering')
  }
}

function otherValue(value: Value, column: Column): Value {
  if (column.name === 'seq') return 99
  if (typeof value === 'number')
    return value === 0 ? 1 : value / 2 === Math.trunc(value / 2) ? value / 2 : Math.trunc(value) - 1
  if (typeof value === 'string') return `${value} `
  return column.type === 'TEXT' ? 'x' : 1
}

describe('verify', () => {
  test('finds nothing wrong with a database in which every table has rows', () => {
    const ctx = testContext()
    fillEveryTable(ctx)
    expect(verify(ctx.store.raw, chainHead(ctx.store.raw))).toEqual([])
    expect(
      exportedTables(ctx.store.raw).filter(
        table => ctx.store.raw.prepare(`select 1 from "${table}"`).get() === undefined,
      ),
    ).toEqual([])
  })

  test('finds an edit of any column of any table', () => {
    const raw = unguarded()
    const unseen: string[] = []
    let edits = 0
    for (const table of exportedTables(raw)) {
      const row = fullestRow(raw, table)
      const { where, key } = itself(raw, table, row)
      for (const column of columnsOf(raw, table)) {
        const old = row[column.name] ?? null
        const values = new Set([otherValue(old, column), column.notnull === 0 ? null : old])
        values.delete(old)
        for (const value of values) {
          edits += 1
          const update = raw.prepare(`update "${table}" set "${column.name}" = ? where ${where}`)
          const faults = faultsAfter(raw, () => update.run(value, ...key))
          if (faults.length === 0) unseen.push(`${table}.${column.name}: ${old} -> ${value}`)
        }
      }
    }
    expect(unseen).toEqual([])
    expect(edits).toBeGreaterThan(400)
  })

  test('finds a row of any table that is taken away, and a copy of it that is added', () => {
    const raw = unguarded()
    const unseen: string[] = []
    for (const table of exportedTables(raw)) {
      const { where, key } = itself(raw, table, fullestRow(raw, table))
      const first = columnsOf(raw, table).find(column => column.pk > 0)!
      const columns = columnsOf(raw, table).map(column => `"${column.name}"`)
      const copied = columns.map(name =>
        name === `"${first.name}"` ? (first.type === 'TEXT' ? `'copy'` : '99') : name,
      )
      const take = raw.prepare(`delete from "${table}" where ${where}`)
      const add = raw.prepare(`insert into "${table}" (${columns}) select ${copied} from "${table}" where ${where}`)
      if (faultsAfter(raw, () => take.run(...key)).length === 0) unseen.push(`${table} taken away`)
      if (faultsAfter(raw, () => add.run(...key)).length === 0) unseen.push(`${table} added again`)
    }
    expect(unseen).toEqual([])
  })

  test('finds an edit whose author has also put the hashes right, but for the links after it', () => {
    const raw = unguarded()
    raw.exec("update people set name = 'Somebody Else' where id = 'people-1'")
    raw
      .prepare("update event_rows set row_sha256 = ? where table_name = 'people' and row_id = 'people-1'")
      .run(rowHash(raw, 'people', 'people-1'))
    expect(verifyRecord(raw).map(fault => fault.kind)).toEqual(['chain'])
    const rows = raw
      .prepare('select table_name, row_id, row_sha256 from event_rows where event_seq = 1')
      .all() as never[]
    const event = raw.prepare('select * from events where seq = 1').get() as Parameters<typeof eventHash>[0]
    raw.prepare('update events set hash = ? where seq = 1').run(eventHash({ ...event, rows }))
    expect(verifyRecord(raw)).toEqual([{ kind: 'chain', says: 'Event 2 does not continue event 1.' }])
  })

  test('names the first broken link first', () => {
    const raw = unguarded()
    raw.exec("update families set name = 'x'; update events set action = 'x' where seq = 1")
    expect(verify(raw)[0]?.says).toMatch(/^Event 1 /)
  })

  test('finds a missing tail, and a chain that was written again, by an event that was noted elsewhere', () => {
    const raw = unguarded()
    const head = chainHead(raw)
    raw.exec(
      `delete from event_rows where event_seq = 2; delete from events where seq = 2; delete from history_events where import_id = (select import_id from history_events order by id desc limit 1)`,
    )
    expect(verifyRecord(raw, chainHead(raw))).toEqual([])
    expect(verifyRecord(raw, head)).toEqual([
      { kind: 'tail', says: 'The chain ends at event 1; event 2 was there and is gone.' },
    ])
    expect(verifyRecord(raw, { seq: 1, hash: head.hash })[0]?.says).toMatch(/^Event 1 is not the one expected/)
  })

  test('finds a guard that is missing', () => {
    const ctx = testContext()
    ctx.store.raw.exec('drop trigger torque_records_never_changed')
    expect(verify(ctx.store.raw)).toEqual([
      { kind: 'schema', says: 'The trigger torque_records_never_changed is missing.' },
    ])
  })

  test('finds a reference to a row that is not there', () => {
    const ctx = testContext()
    ctx.store.raw.pragma('foreign_keys = OFF')
    ctx.store.raw.exec("insert into sessions (id, person_id, created_at, expires_at) values ('s', 'nobody', 1, 2)")
    expect(verify(ctx.store.raw)[0]?.says).toMatch(/sessions .* refers to a row of people that is not there/)
  })

  test('leaves a hash as it was when a later version adds a column', () => {
    const ctx = testContext()
    fillEveryTable(ctx)
    ctx.store.raw.exec('alter table suppliers add column phone text')
    expect(verifyRecord(ctx.store.raw)).toEqual([])
  })
})
