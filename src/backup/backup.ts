import fs from 'node:fs'
import path from 'node:path'
import { attachmentsFolder, copyAttachments, namedAttachments } from '../platform/database/attachments.ts'
import { type Copied, copyDatabase } from '../platform/database/copy.ts'
import { openReadOnly } from '../platform/database/open.ts'
import { Refusal } from '../platform/refusal.ts'

export interface BackedUp extends Copied {
  attachments: number
}

/**
 * Copies a database, which may be in use, and its attachments. The copy is one file, checked after writing, and gets its
 * name only then; nothing is overwritten. The attachments that the copy names go to the folder FILE.files, as far as they
 * are not there already, and are hashed again.
 */
export async function backup(databaseFile: string, target: string): Promise<BackedUp> {
  if (fs.existsSync(target)) throw new Refusal(`${target} exists already; nothing is overwritten. Choose another name.`)
  if (!fs.existsSync(path.dirname(path.resolve(target))))
    throw new Refusal(`There is no folder ${path.dirname(target)}.`)
  const store = openReadOnly(databaseFile)
  try {
    const copied = await copyDatabase(store.raw, target)
    const { names, faults } = copyAttachments(attachmentsFolder(databaseFile), attachmentsFolder(target), named(target))
    if (faults.length > 0) {
      const lines = faults.map(fault => fault.says)
      throw new Refusal(`The database was backed up to ${target}, but not every attachment is sound:`, lines)
    }
    return { ...copied, attachments: names.length }
  } finally {
    store.close()
  }
}

/** What the copy names: a photo that was added while it was made is not in it. */
function named(file: string): string[] {
  const copy = openReadOnly(file)
  try {
    return namedAttachments(copy.raw)
  } finally {
    copy.close()
  }
}
