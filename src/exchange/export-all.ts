import fs from 'node:fs'
import path from 'node:path'
import { copyAttachments, namedAttachments } from '../platform/database/attachments.ts'
import { chainHead } from '../platform/database/events.ts'
import { renameForGood } from '../platform/database/files.ts'
import { migrationState } from '../platform/database/migrate.ts'
import { openReadOnly, type Store } from '../platform/database/open.ts'
import type { Fault } from '../platform/database/verify-faults.ts'
import { Refusal } from '../platform/refusal.ts'
import { ATTACHMENTS_FOLDER, MANIFEST_FILE, type Manifest } from './manifest.ts'
import { csvOf, jsonOf, writeHashed } from './table-files.ts'
import { columnsOf, exportedTables, rowsInOrder } from './tables.ts'

type TableEntry = Manifest['tables'][number]

function exportTable(raw: Store['raw'], folder: string, name: string): TableEntry {
  const columns = columnsOf(raw, name).map(column => column.name)
  const file = (kind: string) => path.join(folder, `${name}.${kind}`)
  return {
    name,
    rows: raw.prepare(`select count(*) from "${name}"`).pluck().get() as number,
    csv_sha256: writeHashed(file('csv'), csvOf(columns, rowsInOrder(raw, name))),
    json_sha256: writeHashed(file('json'), jsonOf(columns, rowsInOrder(raw, name))),
  }
}

function exportInto(store: Store, folder: string): { manifest: Manifest; faults: Fault[] } {
  const { raw } = store
  // One transaction: every table as it was at the same moment, while a server may go on writing.
  const [manifest, named] = raw.transaction((): [Manifest, string[]] => {
    const tables = exportedTables(raw).map(table => exportTable(raw, folder, table))
    const { applied } = migrationState(raw)
    const told = { format: 'witness-mark-export', version: 1, migrations: applied, chain_head: chainHead(raw) } as const
    return [{ ...told, tables, attachments: [] }, namedAttachments(raw)]
  })()
  const { names, faults } = copyAttachments(store.files, path.join(folder, ATTACHMENTS_FOLDER), named)
  manifest.attachments = names
  writeHashed(path.join(folder, MANIFEST_FILE), [`${JSON.stringify(manifest, null, 2)}\n`])
  return { manifest, faults }
}

function assertFree(folder: string): void {
  if (!fs.existsSync(folder)) return
  if (!fs.statSync(folder).isDirectory()) throw new Refusal(`${folder} is a file; name a folder.`)
  if (fs.readdirSync(folder).length > 0) throw new Refusal(`${folder} is not empty; name a new folder.`)
}

/**
 * Writes everything that the record holds to a folder: each table as NAME.csv and NAME.json, the attachments, and a
 * manifest with the number of rows and the SHA-256 of each file. The folder gets its name when it is complete. The same
 * rows give the same bytes. Where an attachment is missing or damaged, all the rest is exported, and the refusal says which.
 */
export function exportAll(databaseFile: string, folder: string): Manifest {
  assertFree(folder)
  const store = openReadOnly(databaseFile)
  const unfinished = `${path.resolve(folder)}.unfinished`
  try {
    fs.rmSync(unfinished, { recursive: true, force: true })
    fs.mkdirSync(unfinished, { recursive: true })
    const { manifest, faults } = exportInto(store, unfinished)
    renameForGood(unfinished, path.resolve(folder))
    if (faults.length > 0) {
      const lines = faults.map(fault => fault.says)
      throw new Refusal(`Everything else was exported to ${folder}, but not every attachment is sound:`, lines)
    }
    return manifest
  } finally {
    store.close()
    fs.rmSync(unfinished, { recursive: true, force: true })
  }
}
