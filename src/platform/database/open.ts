import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import { Refusal } from '../refusal.ts'
import { attachmentsFolder } from './attachments.ts'
import { rememberingStatements } from './statements.ts'
import { watchAuditedTables } from './touched-rows.ts'
import type { Read } from './types.ts'

/** One database file: the single writer connection of the process, raw and as drizzle. */
export interface Store {
  raw: Database.Database
  read: Read
  /** The folder of its attachments; it is made with the first of them. */
  files: string
  close(): void
}

/**
 * The pragmas are set on every open and read back: a connection that opens an existing WAL file would otherwise run at
 * synchronous=NORMAL and may lose the last commits on a power cut.
 */
const PRAGMAS = [
  ['busy_timeout', 5000, 5000],
  ['journal_mode', 'WAL', 'wal'],
  ['synchronous', 'FULL', 2],
  ['foreign_keys', 'ON', 1],
  ['trusted_schema', 'OFF', 0],
  ['temp_store', 'MEMORY', 2],
] as const

function setPragmas(raw: Database.Database): void {
  const inMemory = raw.memory
  for (const [name, value, readBack] of PRAGMAS) {
    raw.pragma(`${name} = ${value}`)
    const wanted = name === 'journal_mode' && inMemory ? 'memory' : readBack
    const actual = raw.pragma(name, { simple: true })
    if (actual !== wanted) throw new Error(`The database refused ${name} = ${value}: it says ${String(actual)}.`)
  }
}

function storeOf(raw: Database.Database, files: string, close: () => void): Store {
  return { raw, read: drizzle(rememberingStatements(raw)), files, close }
}

/**
 * Opens the writer connection. `source` is a file name, `:memory:`, or the bytes of a database (tests). A database in memory
 * has its attachments in a folder of its own, which goes when it goes.
 */
export function openStore(source: string | Buffer): Store {
  const raw = new Database(source)
  setPragmas(raw)
  watchAuditedTables(raw)
  if (!raw.memory) return storeOf(raw, attachmentsFolder(raw.name), () => raw.close())
  const files = path.join(os.tmpdir(), `witness-mark-memory-${randomUUID()}.files`)
  return storeOf(raw, files, () => {
    raw.close()
    fs.rmSync(files, { recursive: true, force: true })
  })
}

/** What is wrong with a file that is no database, or no longer one, in words for the person who named it. */
function unreadable(file: string, error: unknown): unknown {
  if (!(error instanceof Database.SqliteError)) return error
  if (error.code === 'SQLITE_NOTADB') return new Refusal(`${file} is not a database.`)
  if (error.code.startsWith('SQLITE_CORRUPT')) return new Refusal(`${file} is damaged: ${error.message}.`)
  if (error.code.startsWith('SQLITE_CANTOPEN')) return new Refusal(`${file} cannot be opened.`)
  return error
}

/** A connection that cannot write, to a file that must exist: for exports, checks and the computing worker. */
export function openReadOnly(file: string): Store {
  if (!fs.existsSync(file)) throw new Refusal(`There is no database ${file}.`)
  const raw = new Database(file, { readonly: true })
  try {
    raw.pragma('busy_timeout = 5000')
    raw.pragma('trusted_schema = OFF')
    raw.prepare('select count(*) from sqlite_schema').get()
  } catch (error) {
    raw.close()
    throw unreadable(file, error)
  }
  return storeOf(raw, attachmentsFolder(file), () => raw.close())
}
