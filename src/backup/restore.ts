import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import type { Clock } from '../platform/clock.ts'
import {
  attachmentFaults,
  attachmentNames,
  attachmentsFolder,
  copyAttachments,
  namedAttachments,
} from '../platform/database/attachments.ts'
import { type Copied, copyDatabase } from '../platform/database/copy.ts'
import { freeName, renameForGood, withCompanions } from '../platform/database/files.ts'
import { migrationState } from '../platform/database/migrate.ts'
import { openReadOnly, type Store } from '../platform/database/open.ts'
import { verify } from '../platform/database/verify.ts'
import { Refusal } from '../platform/refusal.ts'

export interface Restored extends Copied {
  attachments: number
  /** Where the database that was there before is now; null when there was none. */
  before: string | null
}

/** `inPlace`: attachments that lie beside the database already; a copy made before a migration has them there only. */
function assertSound(store: Store, file: string, inPlace: readonly string[]): void {
  migrationState(store.raw)
  const needed = namedAttachments(store.raw).filter(name => !inPlace.includes(name))
  const faults = [...verify(store.raw), ...attachmentFaults(attachmentsFolder(file), needed)]
  if (faults.length > 0)
    throw new Refusal(
      `${file} is damaged and was not restored:`,
      faults.map(fault => fault.says),
    )
}

/**
 * Takes a database for itself, so that it can be moved: no other process may have it open. SQLite lets go of WAL mode only
 * for a connection that is alone, and then leaves a single file. Null for a file that can no longer be opened as a database.
 */
function takeAlone(file: string): Database.Database | null {
  const raw = new Database(file, { timeout: 0 })
  try {
    raw.pragma('journal_mode = DELETE')
    raw.exec('begin exclusive')
    return raw
  } catch (error) {
    raw.close()
    const code = error instanceof Database.SqliteError ? error.code : ''
    if (/^SQLITE_(NOTADB|CORRUPT)/.test(code)) return null
    if (/^SQLITE_(BUSY|LOCKED)/.test(code)) {
      throw new Refusal(`${file} is in use. Stop the program that has it open (a running serve?), then restore again.`)
    }
    throw error
  }
}

/**
 * Moves the old database out of the way and the new one to its place; the old one is never overwritten. A journal that
 * lies there without its database is moved too: SQLite would play it into the new one.
 */
function swap(prepared: string, databaseFile: string, clock: Clock): string | null {
  const alone = fs.existsSync(databaseFile) ? takeAlone(databaseFile) : null
  try {
    const old = withCompanions(databaseFile).map(file => fs.existsSync(file))
    const stamp = new Date(clock.now()).toISOString().slice(0, 19).replace(/[-:]/g, '')
    const before = freeName(`${databaseFile}.before-restore-${stamp}`)
    const places = withCompanions(before)
    withCompanions(databaseFile).forEach((file, index) => {
      if (old[index]) renameForGood(file, places[index]!)
    })
    renameForGood(prepared, databaseFile)
    return old.includes(true) ? before : null
  } finally {
    alone?.close()
  }
}

/**
 * Puts a backup in the place of a database, with no server running. Refuses a backup that is damaged in any way `verify`
 * can find, and one that a newer version of the program wrote; keeps the database that was there before beside it.
 */
export async function restore(backupFile: string, databaseFile: string, clock: Clock): Promise<Restored> {
  if (path.resolve(backupFile) === path.resolve(databaseFile)) {
    throw new Refusal(`${backupFile} is the database itself; name the backup to restore.`)
  }
  const store = openReadOnly(backupFile)
  try {
    assertSound(store, backupFile, attachmentNames(attachmentsFolder(databaseFile)))
    const prepared = `${databaseFile}.restoring`
    fs.rmSync(prepared, { force: true })
    const copied = await copyDatabase(store.raw, prepared)
    // before the swap: a row is never there without its file
    const folders = [attachmentsFolder(backupFile), attachmentsFolder(databaseFile)] as const
    const { names, faults } = copyAttachments(...folders, namedAttachments(store.raw))
    if (faults.length > 0) {
      const lines = faults.map(fault => fault.says)
      throw new Refusal(`${backupFile} was not restored: not every attachment could be put in its place.`, lines)
    }
    const before = swap(prepared, databaseFile, clock)
    return { ...copied, attachments: names.length, before }
  } finally {
    store.close()
  }
}
