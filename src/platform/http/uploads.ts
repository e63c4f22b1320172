import { createHash } from 'node:crypto'
import '@fastify/multipart'
import type { FastifyRequest } from 'fastify'
import type { Typed } from '../forms/names.ts'
import { problem } from '../problems.ts'

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
  return /^multipart\//i.test(request.headers['content-type'] ?? '')
}

/** The fields and files of a multipart body, read now. 400 when it is broken, 413 when a file is too large. */
export async function multipartOf(request: FastifyRequest): Promise<{ fields: Typed; files: Files }> {
  const fields: Typed = {}
  const byName: Record<string, Upload[]> = {}
  const digest = createHash('sha256')
  for (const part of await partsOf(request)) {
    if ('value' in part) fields[part.name] = [...[fields[part.name] ?? []].flat(), part.value]
    else {
      byName[part.name] = [...(byName[part.name] ?? []), part.upload]
      digest.update(JSON.stringify([part.name, part.upload.filename]))
      digest.update(createHash('sha256').update(part.upload.bytes).digest())
    }
  }
  return { fields, files: Object.keys(byName).length === 0 ? NO_FILES : { byName, digest: digest.digest('hex') } }
}

type Part = { name: string; value: string } | { name: string; upload: Upload }

async function partsOf(request: FastifyRequest): Promise<Part[]> {
  const parts: Part[] = []
  try {
    for await (const part of request.parts()) {
      const name = part.fieldname
      if (part.type === 'field') parts.push({ name, value: String(part.value ?? '') })
      else {
        const upload = { filename: part.filename ?? '', mimetype: part.mimetype, bytes: await part.toBuffer() }
        // a file control left empty still sends a part
        if (upload.bytes.length > 0 || upload.filename !== '') parts.push({ name, upload })
      }
    }
  } catch (error) {
    // the plugin's own refusals have a status; what its parser throws has none, and always means a broken body
    if (error instanceof Error && !('statusCode' in error)) {
      throw problem('not-readable', { detail: `The multipart body could not be read: ${error.message}.` })
    }
    throw error
  }
  return parts
}
