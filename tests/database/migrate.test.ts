import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { describe, expect, test } from 'vitest'
import { allTables, auditedTables, SET_TABLES, UNAUDITED_TABLES } from '../../src/platform/database/audited-tables.ts'
import { migrate, openMigrated } from '../../src/platform/database/migrate.ts'
import { openReadOnly, openStore } from '../../src/platform/database/open.ts'
import { migrationsFolder } from '../../src/platform/paths.ts'
import { Refusal } from '../../src/platform/refusal.ts'
import { memoryStore, temporaryFolder } from '../support/database.ts'

interface Journal {
  version: string
  dialect: string
  entries: { idx: number; version: string; when: number; tag: string; breakpoints: boolean }[]
}

/** A copy of the program's migrations with further ones, as a newer version of the program would have them. */
function migrationsWith(...statements: string[]): string {
  const folder = path.join(temporaryFolder(), 'migrations')
  fs.cpSync(migrationsFolder, folder, { recursive: true })
  const journalFile = path.join(folder, 'meta', '_journal.json')
  const journal = JSON.parse(fs.readFileSync(journalFile, 'utf8')) as Journal
  for (const statement of statements) {
    const idx = journal.entries.length
    const tag = `${String(idx).padStart(4, '0')}_later`
    journal.entries.push({ idx, version: '6', when: journal.entries[idx - 1]!.when + 1000, tag, breakpoints: true })
    fs.writeFileSync(path.join(folder, `${tag}.sql`), statement)
  }
  fs.writeFileSync(journalFile, JSON.stringify(journal))
  return folder
}

/** The number of the first migration that `migrationsWith` adds. */
const NEXT = fs.readdirSync(migrationsFolder).filter(name => name.endsWith('.sql')).length + 1

const ADDS_A_COLUMN = 'ALTER TABLE suppliers ADD COLUMN phone text'

describe('the schema after all migrations', () => {
  test('has only STRICT tables, each with an id that is never NULL, text for a record', () => {
    const { raw } = memoryStore()
    const lax = raw
      .prepare(
        "select name from pragma_table_list where schema = 'main' and type = 'table' and strict = 0 and name not like 'sqlite_%' and name <> '__drizzle_migrations'",
      )
      .pluck()
      .all()
    expect(lax).toEqual([])
    const records = [...auditedTables(raw), ...Object.keys(SET_TABLES)]
    const ids = [...records, ...UNAUDITED_TABLES].filter(table => {
      const id = raw
        .prepare(`select type, "notnull" as required, pk from pragma_table_info(?) where name = 'id'`)
        .get(table) as { type: string; required: number; pk: number } | undefined
      const mayBeNumber = UNAUDITED_TABLES.includes(table)
      return !(id?.required === 1 && id.pk === 1 && (id.type === 'TEXT' || mayBeNumber))
    })
    expect(ids).toEqual([])
  })

  test('refuses the deletion of every record, and the change of every one that nobody edits', () => {
    const { raw } = memoryStore()
    const triggers = raw.prepare("select tbl_name, sql from sqlite_schema where type = 'trigger'").all() as {
      tbl_name: string
      sql: string
    }[]
    const guarded = (verb: string) =>
      new Set(triggers.filter(trigger => trigger.sql.includes(`BEFORE ${verb}`)).map(trigger => trigger.tbl_name))
    const records = allTables(raw).filter(table => !UNAUDITED_TABLES.includes(table))
    expect(records.filter(table => !guarded('DELETE').has(table))).toEqual([])
    const edited = records.filter(table => {
      const columns = raw.prepare('select name from pragma_table_info(?)').pluck().all(table)
      return !columns.includes('version') && !['counters', 'passwords'].includes(table)
    })
    expect(edited.filter(table => !guarded('UPDATE').has(table))).toEqual([])
  })

  test('never deletes along a reference', () => {
    const { raw } = memoryStore()
    const cascades = raw
      .prepare(
        "select m.name from pragma_table_list m, pragma_foreign_key_list(m.name) f where f.on_delete not in ('NO ACTION', 'RESTRICT')",
      )
      .all()
    expect(cascades).toEqual([])
  })

  test('comes from migrations whose time stamps increase, so that none is skipped', () => {
    const journal = JSON.parse(fs.readFileSync(path.join(migrationsFolder, 'meta', '_journal.json'), 'utf8')) as Journal
    const stamps = journal.entries.map(entry => entry.when)
    expect(stamps).toEqual([...new Set(stamps)].sort((a, b) => a - b))
    const files = fs.readdirSync(migrationsFolder).filter(name => name.endsWith('.sql'))
    expect(files.sort()).toEqual(journal.entries.map(entry => `${entry.tag}.sql`))
  })
})

describe('openMigrated', () => {
  test('makes a database where there is none, and opens it again unchanged', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    const first = await openMigrated(file)
    expect(allTables(first.raw)).toContain('torque_records')
    first.close()
    const again = await openMigrated(file)
    expect(again.raw.pragma('synchronous', { simple: true })).toBe(2)
    expect(again.raw.pragma('foreign_keys', { simple: true })).toBe(1)
    again.close()
    expect(fs.readdirSync(path.dirname(file))).toEqual(['shop.db'])
  })

  test('copies an existing database before it changes it, and the copy is whole', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    const old = await openMigrated(file)
    old.raw.exec(`insert into setup_links (id, created_at) values ('a', 1)`)
    old.close()
    const store = await openMigrated(file, migrationsWith(ADDS_A_COLUMN))
    expect(
      store.raw.prepare("select count(*) from pragma_table_info('suppliers') where name = 'phone'").pluck().get(),
    ).toBe(1)
    expect(store.raw.pragma('foreign_keys', { simple: true })).toBe(1)
    store.close()
    const copy = openReadOnly(`${file}.before-migration-${NEXT}`)
    expect(copy.raw.prepare('select id from setup_links').pluck().all()).toEqual(['a'])
    expect(
      copy.raw.prepare("select count(*) from pragma_table_info('suppliers') where name = 'phone'").pluck().get(),
    ).toBe(0)
    copy.close()
    expect(fs.readdirSync(path.dirname(file)).sort()).toEqual(['shop.db', `shop.db.before-migration-${NEXT}`])
  })

  test('leaves the database as it was when a migration fails, and says where the copy is', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    ;(await openMigrated(file)).close()
    const folder = migrationsWith(ADDS_A_COLUMN, 'INSERT INTO nowhere VALUES (1)')
    const refusal = (await openMigrated(file, folder).catch((error: unknown) => error)) as Refusal
    expect(refusal.message).toContain(`shop.db.before-migration-${NEXT}`)
    expect(refusal.lines.join()).toContain('no such table: nowhere')
    const store = await openMigrated(file)
    expect(
      store.raw.prepare("select count(*) from pragma_table_info('suppliers') where name = 'phone'").pluck().get(),
    ).toBe(0)
    store.close()
  })

  test('refuses a migration that leaves a reference without its row', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    ;(await openMigrated(file)).close()
    const folder = migrationsWith(
      "INSERT INTO variants (id, created_at, created_by, name) VALUES ('v', 1, 'nobody', 'Estate')",
    )
    const refusal = await openMigrated(file, folder).catch((error: unknown) => error)
    expect(refusal).toBeInstanceOf(Refusal)
    expect((refusal as Refusal).lines.join()).toMatch(/variants.*people/)
  })

  test('refuses a database of a newer version', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    ;(await openMigrated(file, migrationsWith(ADDS_A_COLUMN))).close()
    await expect(openMigrated(file)).rejects.toThrow(/written by a newer version/)
  })

  test('finds a migration that was changed after it was applied', async () => {
    const file = path.join(temporaryFolder(), 'shop.db')
    ;(await openMigrated(file, migrationsWith(ADDS_A_COLUMN))).close()
    const changed = migrationsWith('ALTER TABLE suppliers ADD COLUMN telephone text')
    await expect(openMigrated(file, changed)).rejects.toThrow(new RegExp(`Migration ${NEXT} .* is not the one`))
  })

  test('finds a migration with an older time stamp, which the migrator would skip', () => {
    const store = openStore(':memory:')
    const folder = migrationsWith(ADDS_A_COLUMN)
    migrate(store, folder)
    const journalFile = path.join(folder, 'meta', '_journal.json')
    const journal = JSON.parse(fs.readFileSync(journalFile, 'utf8')) as Journal
    journal.entries[NEXT - 1]!.when = journal.entries[NEXT - 2]!.when - 1
    fs.writeFileSync(journalFile, JSON.stringify(journal))
    expect(() => migrate(store, folder)).toThrow(new RegExp(`Migration ${NEXT}`))
    store.close()
  })

  test('refuses the database of another program and a file that is none, and changes neither', async () => {
    const folder = temporaryFolder()
    const other = path.join(folder, 'other.db')
    const foreign = new Database(other)
    foreign.exec('create table letters (id)')
    foreign.close()
    const before = fs.readFileSync(other)
    await expect(openMigrated(other)).rejects.toThrow(/another program/)
    expect(fs.readFileSync(other)).toEqual(before)
    const text = path.join(folder, 'letter.txt')
    fs.writeFileSync(text, 'Dear customer, '.repeat(100))
    await expect(openMigrated(text)).rejects.toThrow(Refusal)
    expect(fs.readFileSync(text, 'utf8')).toMatch(/^Dear customer/)
  })
})
