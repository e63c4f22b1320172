import fs from 'node:fs'
import path from 'node:path'
import { attachmentFaults, attachmentsFolder, copyAttachments } from '../platform/database/attachments.ts'
import { type Copied, copyDatabase } from '../platform/database/copy.ts'
import { openReadOnly } from '../platform/database/open.ts'
import { Refusal } from '../platform/refusal.ts'

export interface BackedUp extends Copied {
  attachments: number
}

/**
 * Copies a database, which may be in use, and its attachments. The copy is one file, checked after writing, and gets its
 * name only then; nothing is overwritten. Attachments go to the folder FILE.files, where those of earlier backups under
 * the same name are kept.
 */
export async function backup(databaseFile: string, target: string): Promise<BackedUp> {
  if (fs.existsSync(target)) throw new Refusal(`${target} exists already; nothing is overwritten. Choose another name.`)
  if (!fs.existsSync(path.dirname(path.resolve(target))))
    throw new Refusal(`There is no folder ${path.dirname(target)}.`)
  const store = openReadOnly(databaseFile)
  try {
    const copied = await copyDatabase(store.raw, target)
    const attachments = copyAttachments(attachmentsFolder(databaseFile), attachmentsFolder(target))
    const faults = attachmentFaults(attachmentsFolder(target))
    if (faults.length > 0) {
      const lines = faults.map(fault => fault.says)
      throw new Refusal(`The database was backed up to ${target}, but not every attachment is sound:`, lines)
    }
    return { ...copied, attachments }
  } finally {
    store.close()
  }
}
