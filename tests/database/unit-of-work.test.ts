import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { nextNumber, yearNumber } from '../../src/platform/database/counters.ts'
import { chainHead, recordEvent } from '../../src/platform/database/events.ts'
import { openStore } from '../../src/platform/database/open.ts'
import { problemFromSqlite } from '../../src/platform/database/sqlite-problems.ts'
import type { Tx } from '../../src/platform/database/types.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import { memoryStore, type TestContext, temporaryFolder, testContext } from '../support/database.ts'

function addPerson(ctx: TestContext, name: string): string {
  const id = ctx.ids.next()
  ctx.store.raw
    .prepare(`insert into people (id, created_at, name, role, kind) values (?, ?, ?, 'owner', 'person')`)
    .run(id, ctx.clock.now(), name)
  return id
}

function addRecorded(ctx: TestContext, tx: Tx, name: string) {
  return recordEvent(ctx, tx, { action: 'person.added', table: 'people', id: addPerson(ctx, name) })
}

describe('write', () => {
  test('commits rows with the event that covers them, and chains the events', () => {
    const ctx = testContext()
    const first = write(ctx, tx => addRecorded(ctx, tx, 'Ines'))
    const second = write(ctx, tx => addRecorded(ctx, tx, 'Jonas'))
    expect([first.seq, second.seq]).toEqual([1, 2])
    expect(chainHead(ctx.store.raw)).toEqual(second)
    expect(ctx.store.raw.prepare('select previous_hash from events where seq = 2').pluck().get()).toBe(first.hash)
  })

  test('commits nothing when a row has no event', () => {
    const ctx = testContext()
    expect(() => write(ctx, () => addPerson(ctx, 'Ines'))).toThrow(/without an audit event: people/)
    expect(ctx.store.raw.prepare('select count(*) from people').pluck().get()).toBe(0)
    write(ctx, tx => addRecorded(ctx, tx, 'Ines'))
  })

  test('joins a write that is already under way: both commit, or neither', () => {
    const ctx = testContext()
    expect(() =>
      write(ctx, tx => {
        write(ctx, inner => addRecorded(ctx, inner, 'Ines'))
        addRecorded(ctx, tx, 'Jonas')
        throw new Error('changed our mind')
      }),
    ).toThrow('changed our mind')
    expect(chainHead(ctx.store.raw).seq).toBe(0)
  })

  test('refuses work that would go on after the commit', () => {
    const ctx = testContext()
    const later = () => Promise.resolve() as unknown as string
    expect(() => write(ctx, later)).toThrow(/synchronous/)
  })

  test('records a row once, however often it was written, also by an upsert', () => {
    const ctx = testContext()
    const numbers = write(ctx, tx => {
      const taken = [nextNumber(ctx, tx, 'invoice'), nextNumber(ctx, tx, 'invoice'), nextNumber(ctx, tx, 'invoice')]
      recordEvent(ctx, tx, { action: 'invoice.made', table: 'counters', id: 'invoice' })
      return taken
    })
    expect(numbers).toEqual([1, 2, 3])
    expect(ctx.store.raw.prepare('select count(*) from event_rows').pluck().get()).toBe(1)
  })
})

describe('nextNumber and yearNumber', () => {
  test('give a number back when the write fails, and count each kind and year for itself', () => {
    const ctx = testContext()
    const take = (kind: string, year: number) =>
      write(ctx, tx => {
        const number = yearNumber(ctx, tx, kind, year)
        recordEvent(ctx, tx, { action: 'number.taken', table: 'counters', id: kind })
        return number
      })
    expect(take('work-order', 2031)).toBe('2031-0001')
    expect(() =>
      write(ctx, tx => {
        yearNumber(ctx, tx, 'work-order', 2031)
        throw new Error('the write fails')
      }),
    ).toThrow('the write fails')
    expect(take('work-order', 2031)).toBe('2031-0002')
    expect(take('work-order', 2032)).toBe('2032-0001')
    expect(take('invoice', 2031)).toBe('2031-0001')
  })

  test('go past four digits', () => {
    const ctx = testContext()
    const number = write(ctx, tx => {
      ctx.store.raw.exec(`insert into counters values ('work-order-2031', 9999)`)
      const next = yearNumber(ctx, tx, 'work-order', 2031)
      recordEvent(ctx, tx, { action: 'number.taken', table: 'counters', id: 'work-order-2031' })
      return next
    })
    expect(number).toBe('2031-10000')
  })
})

describe('problemFromSqlite', () => {
  function refused(work: () => void) {
    try {
      work()
    } catch (error) {
      return problemFromSqlite(error)
    }
    throw new Error('nothing was refused')
  }

  test('reads the problem that a trigger raises', () => {
    const ctx = testContext()
    write(ctx, tx => addRecorded(ctx, tx, 'Ines'))
    expect(refused(() => ctx.store.raw.exec(`delete from people`))?.type).toBe('record-never-changes')
    expect(refused(() => ctx.store.raw.exec(`update people set name = 'Una'`))?.type).toBe('record-never-changes')
  })

  test('makes a taken name name-taken, with a pointer to the field', () => {
    const ctx = testContext()
    write(ctx, tx => addRecorded(ctx, tx, 'Ines'))
    const taken = refused(() => addPerson(ctx, 'Ines'))
    expect(taken?.type).toBe('name-taken')
    expect(taken?.more.errors?.[0]?.pointer).toBe('/name')
  })

  test('makes a reference to nothing invalid-input', () => {
    const { raw } = memoryStore()
    const unknown = refused(() =>
      raw.exec(`insert into families (id, created_at, created_by, name) values ('f', 1, 'nobody', 'Corvane')`),
    )
    expect(unknown?.type).toBe('invalid-input')
  })

  test('makes a database that another process holds busy', () => {
    const file = `${temporaryFolder()}/shop.db`
    const holder = openStore(file)
    holder.raw.exec('create table t (x text) strict')
    holder.raw.exec('begin immediate')
    const other = new Database(file, { timeout: 0 })
    expect(refused(() => other.exec('begin immediate'))?.type).toBe('busy')
    other.close()
    holder.close()
  })

  test('leaves what only a fault of the program can cause', () => {
    const { raw } = memoryStore()
    expect(
      refused(() =>
        raw.exec(`insert into people (id, created_at, name, role, kind) values ('a', 1, '', 'owner', 'person')`),
      ),
    ).toBeNull()
    expect(refused(() => raw.exec(`select * from nowhere`))).toBeNull()
    expect(problemFromSqlite(new Error('other'))).toBeNull()
  })
})
