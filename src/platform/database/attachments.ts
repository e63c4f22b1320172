import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import type Database from 'better-sqlite3'
import { renameForGood, syncToDisk } from './files.ts'
import type { Fault } from './verify-faults.ts'

const NAME = /^[0-9a-f]{64}$/

/** Attachments lie beside their database, each under the SHA-256 of its bytes: a file never changes, and is kept once. */
export function attachmentsFolder(databaseFile: string): string {
  return `${databaseFile}.files`
}

export function attachmentNames(folder: string): string[] {
  if (!fs.existsSync(folder)) return []
  return fs
    .readdirSync(folder)
    .filter(name => NAME.test(name))
    .sort()
}

/** The files that rows of the record name, each once; none in a database that has no such table yet. */
export function namedAttachments(raw: Database.Database): string[] {
  const isThere = raw.prepare("select 1 from sqlite_schema where type = 'table' and name = 'attachments'").get()
  if (isThere === undefined) return []
  return raw.prepare('select distinct sha256 from attachments order by 1').pluck().all() as string[]
}

export function fileSha256(file: string): string {
  const hash = createHash('sha256')
  const handle = fs.openSync(file, 'r')
  try {
    const chunk = Buffer.allocUnsafe(1 << 20)
    for (let read = fs.readSync(handle, chunk); read > 0; read = fs.readSync(handle, chunk)) {
      hash.update(chunk.subarray(0, read))
    }
  } finally {
    fs.closeSync(handle)
  }
  return hash.digest('hex')
}

function isSound(folder: string, name: string): boolean {
  return fileSha256(path.join(folder, name)) === name
}

/**
 * Files that the record names and the folder lacks, and every file of the folder hashed again: SQLite's checks do not look
 * at them, and would not see one flipped bit.
 */
export function attachmentFaults(folder: string, named: readonly string[]): Fault[] {
  const present = attachmentNames(folder)
  const here = new Set(present)
  return [
    ...named
      .filter(name => !here.has(name))
      .map((name): Fault => ({ kind: 'attachment', says: `The attachment ${path.join(folder, name)} is missing.` })),
    ...present
      .filter(name => !isSound(folder, name))
      .map(
        (name): Fault => ({
          kind: 'attachment',
          says: `The attachment ${path.join(folder, name)} is not what its name says; it has been changed or damaged.`,
        }),
      ),
  ]
}

/**
 * Copies the named attachments that the other folder lacks, hashes those it then has again, and says how many are sound
 * there and what is wrong with the others. A file that is not what its name says is not copied.
 */
export function copyAttachments(
  from: string,
  to: string,
  named: readonly string[],
): { names: string[]; faults: Fault[] } {
  const source = new Set(attachmentNames(from))
  const present = new Set(attachmentNames(to))
  const wanted = named.filter(name => !present.has(name) && source.has(name) && isSound(from, name))
  if (wanted.length > 0) fs.mkdirSync(to, { recursive: true })
  for (const name of wanted) {
    const temporary = path.join(to, `${name}.tmp`)
    fs.copyFileSync(path.join(from, name), temporary)
    syncToDisk(temporary)
    renameForGood(temporary, path.join(to, name))
  }
  const copied = new Set([...present, ...wanted])
  const names = named.filter(name => copied.has(name) && isSound(to, name))
  const sound = new Set(names)
  const faults = named
    .filter(name => !sound.has(name))
    .map((name): Fault => {
      const place = path.join(copied.has(name) ? to : from, name)
      const isThere = copied.has(name) || source.has(name)
      const what = isThere ? 'not what its name says; it has been changed or damaged' : 'missing'
      return { kind: 'attachment', says: `The attachment ${place} is ${what}.` }
    })
  return { names, faults }
}
