import fs from 'node:fs'
import path from 'node:path'

/** Makes sure that what was written to a file (or that a name in a folder) outlives a power cut. */
export function syncToDisk(fileOrFolder: string): void {
  const handle = fs.openSync(fileOrFolder, 'r')
  try {
    fs.fsyncSync(handle)
  } finally {
    fs.closeSync(handle)
  }
}

/** Gives a finished file (or folder) its name, for good. */
export function renameForGood(from: string, to: string): void {
  fs.renameSync(from, to)
  syncToDisk(path.dirname(path.resolve(to)))
}

/** The name itself, or with -2, -3 … when something has it already: nothing is ever overwritten. */
export function freeName(wanted: string): string {
  let name = wanted
  for (let count = 2; fs.existsSync(name); count += 1) name = `${wanted}-${count}`
  return name
}

/** A database file and the two that SQLite keeps beside it. */
export function withCompanions(file: string): string[] {
  return [file, `${file}-wal`, `${file}-shm`]
}
