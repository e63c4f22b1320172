import path from 'node:path'
import { copyAttachments, namedAttachments } from '../platform/database/attachments.ts'
import type { Store } from '../platform/database/open.ts'
import { structureFaults } from '../platform/database/structure.ts'
import { forgetTouched } from '../platform/database/touched-rows.ts'
import { write } from '../platform/database/unit-of-work.ts'
import { verifyRecord } from '../platform/database/verify.ts'
import { Refusal } from '../platform/refusal.ts'
import { assertWholeExport } from './check-export.ts'
import { ATTACHMENTS_FOLDER, type Manifest, readManifest } from './manifest.ts'
import { type JsonLine, readJson } from './table-files.ts'
import { type Column, columnsOf, exportedTables, type Value } from './tables.ts'

type Raw = Store['raw']

const FITS: Record<Column['type'], (value: unknown) => boolean> = {
  TEXT: value => typeof value === 'string',
  INTEGER: value => Number.isSafeInteger(value),
  REAL: value => typeof value === 'number',
}

/** Why a row cannot be of this table, by column; a column that the export does not have yet is NULL. */
function misfits(row: Record<string, unknown>, columns: Column[]): string[] {
  const types = new Map(columns.map(column => [column.name, column.type]))
  return Object.entries(row).flatMap(([name, value]) => {
    const type = types.get(name)
    if (type === undefined) return [`column ${name}: the table has no such column`]
    return value === null || FITS[type](value)
      ? []
      : [`column ${name}: ${JSON.stringify(value)} is not of type ${type}`]
  })
}

function loadTable(raw: Raw, file: string, table: string): { rows: number; faults: string[] } {
  const columns = columnsOf(raw, table)
  const names = columns.map(column => `"${column.name}"`)
  const insert = raw.prepare(`insert into "${table}" (${names}) values (${names.map(() => '?')})`)
  const faultsOf = ({ row }: JsonLine): string[] => {
    if (row === undefined) return ['this is not a row']
    const faults = misfits(row, columns)
    if (faults.length > 0) return faults
    try {
      insert.run(columns.map(column => (row[column.name] ?? null) as Value))
      return []
    } catch (error) {
      return [error instanceof Error ? error.message : String(error)]
    }
  }
  let rows = 0
  const faults: string[] = []
  for (const entry of readJson(file)) {
    rows += 1
    faults.push(...faultsOf(entry).map(fault => `${path.basename(file)}: line ${entry.line}, ${fault}`))
  }
  return { rows, faults }
}

/** A row never comes without its file. */
function withoutFile(raw: Raw, manifest: Manifest): string[] {
  const exported = new Set(manifest.attachments)
  return namedAttachments(raw)
    .filter(name => !exported.has(name))
    .map(name => `The attachment ${name} was missing when this was exported.`)
}

function load(raw: Raw, folder: string, manifest: Manifest): string[] {
  const faults = manifest.tables.flatMap(table => {
    const loaded = loadTable(raw, path.join(folder, `${table.name}.json`), table.name)
    if (loaded.rows === table.rows) return loaded.faults
    return [...loaded.faults, `${table.name}.json has ${loaded.rows} rows; the manifest says ${table.rows}.`]
  })
  if (faults.length > 0) return faults
  return [
    ...structureFaults(raw, 'quick_check'),
    ...verifyRecord(raw, manifest.chain_head).map(fault => fault.says),
    ...withoutFile(raw, manifest),
  ]
}

/**
 * Takes an export into an empty database: all of it in one transaction, or nothing, with every fault named. Adds no event,
 * since the rows come with the events that cover them; the chain is verified before the commit.
 */
export function importAll(store: Store, databaseFile: string, folder: string): Manifest {
  const { raw } = store
  const filled = exportedTables(raw).filter(
    table => raw.prepare(`select 1 from "${table}" limit 1`).get() !== undefined,
  )
  if (filled.length > 0) {
    throw new Refusal(
      `${databaseFile} has rows already (${filled.join(', ')}); an export is taken into an empty database only.`,
    )
  }
  const manifest = readManifest(folder)
  assertWholeExport(raw, folder, manifest)
  copyAttachments(path.join(folder, ATTACHMENTS_FOLDER), store.files, manifest.attachments)
  // Rows name rows of later tables. Off and checked as a whole, not deferred: SQLite would look through every child table
  // for each parent that comes after its children.
  raw.pragma('foreign_keys = OFF')
  try {
    write({ store }, () => {
      const faults = load(raw, folder, manifest)
      if (faults.length > 0) throw new Refusal(`${folder} was not imported.`, faults)
      forgetTouched(raw)
    })
  } finally {
    raw.pragma('foreign_keys = ON')
  }
  return manifest
}
