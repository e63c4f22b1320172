import { createHash } from 'node:crypto'
import type { MultipartFields, MultipartFile, MultipartValue } from '@fastify/multipart'
import type { FastifyRequest } from 'fastify'
import type { Typed } from '../forms/names.ts'

/** A file as it was sent. Its name and type are what the sender says; look at the bytes before believing them. */
export interface Upload {
  filename: string
  mimetype: string
  bytes: Buffer
}

export interface Files {
  /** By the name of the form control. */
  byName: Record<string, Upload[]>
  /** Of all names and bytes together, so that a repeat can be told from another request; null without files. */
  digest: string | null
}

export const NO_FILES: Files = { byName: {}, digest: null }
/** A photograph of a tablet before it is made smaller. */
export const LARGEST_FILE = 25 * 1024 * 1024

export function isMultipart(request: FastifyRequest): boolean {
  return request.isMultipart()
}

/** The fields and files of a multipart body (@fastify/multipart with attachFieldsToBody has read it already). */
export async function multipartOf(request: FastifyRequest): Promise<{ fields: Typed; files: Files }> {
  const fields: Typed = {}
  const byName: Record<string, Upload[]> = {}
  const digest = createHash('sha256')
  for (const [name, given] of Object.entries((request.body ?? {}) as MultipartFields)) {
    for (const part of [given].flat()) {
      if (part === undefined) continue
      if (part.type === 'file') {
        const upload = await uploadOf(part)
        // a file control left empty still sends a part
        if (upload.bytes.length === 0 && upload.filename === '') continue
        byName[name] = [...(byName[name] ?? []), upload]
        digest
          .update(JSON.stringify([name, upload.filename]))
          .update(createHash('sha256').update(upload.bytes).digest())
      } else fields[name] = [...[fields[name] ?? []].flat(), textOf(part)]
    }
  }
  return { fields, files: Object.keys(byName).length === 0 ? NO_FILES : { byName, digest: digest.digest('hex') } }
}

async function uploadOf(part: MultipartFile): Promise<Upload> {
  return { filename: part.filename ?? '', mimetype: part.mimetype, bytes: await part.toBuffer() }
}

function textOf(part: MultipartValue): string {
  return typeof part.value === 'string' ? part.value : String(part.value)
}
