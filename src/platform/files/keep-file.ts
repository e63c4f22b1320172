import { createHash, randomUUID } from 'node:crypto'
import fs from 'node:fs/promises'
import path from 'node:path'

/** Makes sure that what was written to a file (or that a name in a folder) outlives a power cut. */
async function sync(fileOrFolder: string): Promise<void> {
  const handle = await fs.open(fileOrFolder, 'r')
  try {
    await handle.sync()
  } finally {
    await handle.close()
  }
}

async function hasBytes(file: string, bytes: Buffer): Promise<boolean> {
  const known = await fs.readFile(file).catch(() => null)
  return known?.equals(bytes) ?? false
}

/**
 * Keeps bytes under their SHA-256 in a folder, for good, and answers with it. The same bytes are kept once; where a file of
 * that name was damaged, this puts it right. Written to a name of its own first, so that nobody ever sees half a file.
 */
export async function keepFile(folder: string, bytes: Buffer): Promise<string> {
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const file = path.join(folder, sha256)
  if (await hasBytes(file, bytes)) return sha256
  await fs.mkdir(folder, { recursive: true })
  const temporary = `${file}.${randomUUID()}.tmp`
  try {
    await fs.writeFile(temporary, bytes)
    await sync(temporary)
    await fs.rename(temporary, file)
    await sync(folder)
  } finally {
    await fs.rm(temporary, { force: true })
  }
  return sha256
}
