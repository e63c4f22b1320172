import type { AttachmentKind } from '../../core/vocabulary.ts'

const MB = 1_000_000

/** The most bytes that one file of each kind may have when it is sent. */
export const MOST_BYTES: Record<AttachmentKind, number> = { photo: 20 * MB, sound: 20 * MB, clip: 60 * MB }

/** How an attachment is sent. What it is, and so how large it may be, is known only from its bytes. */
export const SENT_FILE = { name: 'file', most_bytes: Math.max(...Object.values(MOST_BYTES)) }

/** 20 MB, 60 MB. */
export function megabytes(bytes: number): string {
  return `${Math.round(bytes / MB)} MB`
}

/** What is taken, and how large, in one sentence. */
export const WHAT_IS_TAKEN = `A photo (JPEG, PNG or WebP, up to ${megabytes(MOST_BYTES.photo)}), a sound (MP3, M4A, OGG, WAV or WebM, up to ${megabytes(MOST_BYTES.sound)}) or a short clip (MP4, WebM or MOV, up to ${megabytes(MOST_BYTES.clip)}).`
