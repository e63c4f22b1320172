import fs from 'node:fs'
import path from 'node:path'
import { z } from 'zod'
import { Refusal } from '../platform/refusal.ts'

const Sha256 = z.string().regex(/^[0-9a-f]{64}$/)

/** What an export says about itself, so that it can be checked whole before anything of it is taken. No time of export: the same rows give the same bytes. */
export const Manifest = z.strictObject({
  format: z.literal('witness-mark-export'),
  version: z.literal(1),
  /** SHA-256 of each migration that the database had had. */
  migrations: z.array(Sha256),
  chain_head: z.strictObject({ seq: z.int().nonnegative(), hash: Sha256 }),
  tables: z.array(
    z.strictObject({
      name: z.string().regex(/^[a-z_]+$/),
      rows: z.int().nonnegative(),
      csv_sha256: Sha256,
      json_sha256: Sha256,
    }),
  ),
  /** SHA-256 of each file in the folder `attachments`, which is also its name. */
  attachments: z.array(Sha256),
})
export type Manifest = z.infer<typeof Manifest>

export const MANIFEST_FILE = 'manifest.json'
export const ATTACHMENTS_FOLDER = 'attachments'

export function readManifest(folder: string): Manifest {
  const file = path.join(folder, MANIFEST_FILE)
  if (!fs.existsSync(file)) throw new Refusal(`${folder} is no export: it has no ${MANIFEST_FILE}.`)
  let content: unknown
  try {
    content = JSON.parse(fs.readFileSync(file, 'utf8'))
  } catch (error) {
    throw new Refusal(`${file} cannot be read: ${error instanceof Error ? error.message : String(error)}`)
  }
  const manifest = Manifest.safeParse(content)
  if (manifest.success) return manifest.data
  const lines = manifest.error.issues.map(issue => `${MANIFEST_FILE}: ${issue.path.join('/')}: ${issue.message}`)
  throw new Refusal(`${file} is not the manifest of an export that this version can take.`, lines)
}
