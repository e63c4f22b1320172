import { createHash } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
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

/** Every attachment hashed again: SQLite's checks do not look at them, and would not see one flipped bit. */
export function attachmentFaults(folder: string): Fault[] {
  return attachmentNames(folder)
    .filter(name => fileSha256(path.join(folder, name)) !== name)
    .map(name => ({
      kind: 'attachment',
      says: `The attachment ${path.join(folder, name)} is not what its name says; it has been changed or damaged.`,
    }))
}

/** Copies the attachments that the other folder lacks and says how many there are now. */
export function copyAttachments(from: string, to: string): number {
  const names = attachmentNames(from)
  if (names.length === 0) return 0
  fs.mkdirSync(to, { recursive: true })
  const present = new Set(attachmentNames(to))
  for (const name of names.filter(name => !present.has(name))) {
    const temporary = path.join(to, `${name}.tmp`)
    fs.copyFileSync(path.join(from, name), temporary)
    syncToDisk(temporary)
    renameForGood(temporary, path.join(to, name))
  }
  return names.length
}
