import fs from 'node:fs'
import path from 'node:path'
import type Database from 'better-sqlite3'
import { migrate as runMigrations } from 'drizzle-orm/better-sqlite3/migrator'
import { type MigrationMeta, readMigrationFiles } from 'drizzle-orm/migrator'
import { migrationsFolder } from '../paths.ts'
import { Refusal } from '../refusal.ts'
import { allTables } from './audited-tables.ts'
import { copyDatabase } from './copy.ts'
import { freeName } from './files.ts'
import { openReadOnly, openStore, type Store } from './open.ts'
import { structureFaults } from './structure.ts'
import { watchAuditedTables } from './touched-rows.ts'

interface Applied {
  hash: string
  created_at: number
}

export interface MigrationState {
  /** SHA-256 of each migration that the database has had, oldest first. */
  applied: string[]
  pending: number
}

function appliedMigrations(raw: Database.Database): Applied[] {
  const known = raw.prepare("select 1 from sqlite_schema where name = '__drizzle_migrations'").get()
  if (known !== undefined) {
    return raw.prepare('select hash, created_at from __drizzle_migrations order by created_at').all() as Applied[]
  }
  if (allTables(raw).length === 0) return []
  throw new Refusal('This file is a database of another program.')
}

/** The migrator goes by time stamps alone: it would skip a file with an older one, and take a changed file for applied. */
function assertSame(applied: Applied, file: MigrationMeta, number: number): void {
  if (applied.hash !== file.hash || Number(applied.created_at) !== file.folderMillis) {
    throw new Refusal(
      `Migration ${number} of this database is not the one that this program has. The program's files have been changed, or the database comes from another version; use the version that wrote it.`,
    )
  }
}

/**
 * What the database has had of the program's migrations. Refuses a database of a newer program, of another program, and
 * one whose migrations are not, byte for byte, those of this program.
 */
export function migrationState(raw: Database.Database, folder = migrationsFolder): MigrationState {
  const files = readMigrationFiles({ migrationsFolder: folder })
  const applied = appliedMigrations(raw)
  if (applied.length > files.length) {
    throw new Refusal(
      `This database was written by a newer version of the program (${applied.length} migrations; this version knows ${files.length}). Update the program.`,
    )
  }
  applied.forEach((migration, index) => {
    const file = files[index]
    if (file) assertSame(migration, file, index + 1)
  })
  return { applied: applied.map(migration => migration.hash), pending: files.length - applied.length }
}

/**
 * Brings a database to the program's schema and says how many migrations that took. Foreign keys are off meanwhile
 * (inside the migrator's transaction they could not be switched), since rebuilding a table drops the old one; everything
 * is checked afterwards. For a file with rows use `openMigrated`, which takes a copy first.
 */
export function migrate(store: Store, folder = migrationsFolder): number {
  const { raw } = store
  const { pending } = migrationState(raw, folder)
  if (pending === 0) return 0
  raw.pragma('foreign_keys = OFF')
  try {
    runMigrations(store.read, { migrationsFolder: folder })
  } finally {
    raw.pragma('foreign_keys = ON')
  }
  const faults = structureFaults(raw, 'integrity_check')
  if (faults.length > 0) throw new Refusal('The database was brought to a newer version and is not whole:', faults)
  watchAuditedTables(raw)
  return pending
}

function existingState(file: string, folder: string): MigrationState | null {
  if (!fs.existsSync(file) || fs.statSync(file).size === 0) return null
  const store = openReadOnly(file)
  try {
    return migrationState(store.raw, folder)
  } finally {
    store.close()
  }
}

/** The migrator wraps what SQLite said. */
function reasonOf(error: unknown): string {
  if (!(error instanceof Error)) return String(error)
  return error.cause === undefined ? error.message : `${error.message}: ${reasonOf(error.cause)}`
}

/** Opens a database file for writing and brings it to the program's schema, making it when there is none. */
export async function openMigrated(file: string, folder = migrationsFolder): Promise<Store> {
  const home = path.dirname(path.resolve(file))
  if (!fs.existsSync(home)) throw new Refusal(`There is no folder ${home} for the database.`)
  const state = existingState(file, folder)
  const store = openStore(file)
  try {
    if (state === null || state.pending === 0) {
      migrate(store, folder)
      return store
    }
    const copy = freeName(`${file}.before-migration-${state.applied.length + 1}`)
    await copyDatabase(store.raw, copy)
    try {
      migrate(store, folder)
    } catch (error) {
      const because = error instanceof Refusal ? [error.message, ...error.lines] : [reasonOf(error)]
      throw new Refusal(
        `The database could not be brought to this version. As it was before, it is in ${copy}.`,
        because,
      )
    }
    return store
  } catch (error) {
    store.close()
    throw error
  }
}
