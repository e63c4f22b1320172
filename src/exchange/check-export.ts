import fs from 'node:fs'
import path from 'node:path'
import { fileSha256 } from '../platform/database/attachments.ts'
import { migrationState } from '../platform/database/migrate.ts'
import type { Store } from '../platform/database/open.ts'
import { Refusal } from '../platform/refusal.ts'
import { ATTACHMENTS_FOLDER, MANIFEST_FILE, type Manifest } from './manifest.ts'
import { exportedTables } from './tables.ts'

function fileFault(folder: string, name: string, sha256: string): string[] {
  const file = path.join(folder, name)
  if (!fs.existsSync(file)) return [`${name} is missing.`]
  return fileSha256(file) === sha256 ? [] : [`${name} is not the file that was exported: its SHA-256 differs.`]
}

/** The files that the manifest names, byte for byte, and no others. */
function fileFaults(folder: string, manifest: Manifest): string[] {
  const wanted = new Map<string, string>()
  for (const table of manifest.tables) {
    wanted.set(`${table.name}.csv`, table.csv_sha256)
    wanted.set(`${table.name}.json`, table.json_sha256)
  }
  for (const name of manifest.attachments) wanted.set(`${ATTACHMENTS_FOLDER}/${name}`, name)
  const present = fs.readdirSync(folder).filter(name => /\.(csv|json)$/.test(name) && name !== MANIFEST_FILE)
  return [
    ...[...wanted].flatMap(([name, sha256]) => fileFault(folder, name, sha256)),
    ...present.filter(name => !wanted.has(name)).map(name => `${name} is not named in the manifest.`),
  ]
}

/** An older export fits a newer schema: what was added since is empty in it. The other way round it does not. */
function versionFaults(raw: Store['raw'], manifest: Manifest): string[] {
  const { applied } = migrationState(raw)
  if (manifest.migrations.length > applied.length)
    return ['It was written by a newer version of the program. Update the program.']
  if (manifest.migrations.some((hash, index) => hash !== applied[index]))
    return ['It was written by another version of the program.']
  const known = new Set(exportedTables(raw))
  return manifest.tables.filter(table => !known.has(table.name)).map(table => `There is no table ${table.name}.`)
}

/** Refuses a folder that is not, byte for byte, an export that this database can take; says everything that is wrong. */
export function assertWholeExport(raw: Store['raw'], folder: string, manifest: Manifest): void {
  const faults = [...versionFaults(raw, manifest), ...fileFaults(folder, manifest)]
  if (faults.length > 0) throw new Refusal(`${folder} was not imported.`, faults)
}
