import { createHash } from 'node:crypto'
import '@fastify/multipart'
import type { FastifyRequest } from 'fastify'
import { tooLarge } from '../files/media.ts'
import type { Typed } from '../forms/names.ts'
import { problem } from '../problems.ts'

/** What a route takes as files: the name of the form control, and the most bytes that each may have. */
export interface TakesFiles {
  name: string
  most_bytes: number
}

/** A file as it was sent. Its name and type are what the sender says; look at the bytes before believing them. */
export interface Upload {
  filename: string
  mimetype: string
  bytes: Buffer
  /** It went past the limit, and the rest of it was thrown away: see `refuseCutOff`. */
  cut_off: boolean
}

export interface Files {
  /** By the name of the form control. */
  byName: Record<string, Upload[]>
  /** Of all names and bytes together, so that a repeat can be told from another request; null without files. */
  digest: string | null
}

export const NO_FILES: Files = { byName: {}, digest: null }
/** Where a route says nothing of files: more than any form without one. */
const NO_FILE_BYTES = 1024 * 1024
/** One control to take a photo, and one to choose a file that is there already. */
const MOST_FILES = 2

export function isMultipart(request: FastifyRequest): boolean {
  return /^multipart\//i.test(request.headers['content-type'] ?? '')
}

/**
 * The fields and files of a multipart body, read now. 400 when it is broken. A file that is too large is marked, not refused
 * here: the fields that come after it are needed to show the form again.
 */
export async function multipartOf(
  request: FastifyRequest,
  takes: TakesFiles | undefined,
): Promise<{ fields: Typed; files: Files }> {
  const fields: Typed = {}
  const byName: Record<string, Upload[]> = {}
  const digest = createHash('sha256')
  for (const part of await partsOf(request, takes?.most_bytes ?? NO_FILE_BYTES)) {
    if ('value' in part) fields[part.name] = [...[fields[part.name] ?? []].flat(), part.value]
    else {
      byName[part.name] = [...(byName[part.name] ?? []), part.upload]
      digest.update(JSON.stringify([part.name, part.upload.filename]))
      digest.update(createHash('sha256').update(part.upload.bytes).digest())
    }
  }
  return { fields, files: Object.keys(byName).length === 0 ? NO_FILES : { byName, digest: digest.digest('hex') } }
}

/** 413 for a file that was larger than the route takes. */
export function refuseCutOff({ byName }: Files, takes: TakesFiles | undefined): void {
  for (const [name, uploads] of Object.entries(byName)) {
    const cutOff = uploads.some(upload => upload.cut_off)
    if (cutOff) throw tooLarge(`/${name}`, 'The file', takes?.most_bytes ?? NO_FILE_BYTES)
  }
}

type Part = { name: string; value: string } | { name: string; upload: Upload }

async function partsOf(request: FastifyRequest, fileSize: number): Promise<Part[]> {
  const parts: Part[] = []
  try {
    const sent = request.parts({ limits: { fileSize, files: MOST_FILES } })
    for await (const part of sent) {
      const name = part.fieldname
      if (part.type === 'field') parts.push({ name, value: String(part.value ?? '') })
      else {
        const bytes = await part.toBuffer()
        const upload = { filename: part.filename ?? '', mimetype: part.mimetype, bytes, cut_off: part.file.truncated }
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
