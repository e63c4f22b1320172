import fs from 'node:fs'
import path from 'node:path'
import type { MediaType } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { previewOf } from '../../platform/files/photo.ts'
import { problem } from '../../platform/problems.ts'
import type { Attachment } from '../contract.ts'
import { oneAttachment } from './attachments.ts'

const ENDINGS: Record<MediaType, string> = {
  'image/jpeg': 'jpg',
  'audio/mpeg': 'mp3',
  'audio/mp4': 'm4a',
  'audio/ogg': 'ogg',
  'audio/wav': 'wav',
  'audio/webm': 'weba',
  'video/mp4': 'mp4',
  'video/webm': 'webm',
  'video/quicktime': 'mov',
}

/** Where the bytes of an attachment lie, and what a browser calls them. 404 for an unknown one, and for a file that is gone. */
export function storedFile(ctx: Context, id: string) {
  const attachment = oneAttachment(ctx, id)
  const place = { folder: ctx.store.files, name: attachment.sha256 }
  if (!fs.existsSync(path.join(place.folder, place.name))) throw gone()
  return { ...place, media_type: attachment.media_type, file_name: nameOf(attachment) }
}

/** A small copy of a photo for pages. 404 also for what is no photo. */
export async function preview(ctx: Context, id: string) {
  const { folder, name, media_type, file_name } = storedFile(ctx, id)
  if (media_type !== 'image/jpeg') throw problem('not-found', { detail: 'Only a photo has a small copy.' })
  const bytes = await previewOf(path.join(folder, name)).catch(() => null)
  if (bytes === null) throw gone()
  return { bytes, media_type, file_name }
}

function nameOf({ kind, sha256, media_type }: Attachment): string {
  return `${kind}-${sha256.slice(0, 12)}.${ENDINGS[media_type]}`
}

function gone() {
  return problem('not-found', {
    detail:
      'The file of this attachment is missing or damaged on the disk. The command verify says which; a backup can bring it back.',
  })
}
