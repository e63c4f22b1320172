import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import { DEMO_NOW, tellWorkshop } from '../../seed/workshop.ts'
import { depsFor } from '../../src/cli/database.ts'
import { clockFrom, handClock } from '../../src/platform/clock.ts'
import type { Deps } from '../../src/platform/context.ts'
import { attachmentsFolder, copyAttachments, namedAttachments } from '../../src/platform/database/attachments.ts'
import { copyDatabase } from '../../src/platform/database/copy.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { countedIds } from '../../src/platform/ids.ts'

/** Does something in a folder that is gone afterwards. */
export async function inFolder<T>(work: (folder: string) => Promise<T>): Promise<T> {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'witness-mark-bench-'))
  try {
    return await work(folder)
  } finally {
    fs.rmSync(folder, { recursive: true, force: true })
  }
}

/** The demo workshop in a file, opened as the program opens it; three years told, and the clock goes on from there. */
export async function toldWorkshop(file: string): Promise<Deps> {
  const clock = handClock(DEMO_NOW)
  const ids = countedIds(clock)
  const store = await openMigrated(':memory:')
  try {
    await tellWorkshop({ ...depsFor(store), clock, ids })
    copyAttachments(store.files, attachmentsFolder(file), namedAttachments(store.raw))
    await copyDatabase(store.raw, file)
  } finally {
    store.close()
  }
  return { ...depsFor(await openMigrated(file)), clock: clockFrom(DEMO_NOW), ids }
}
