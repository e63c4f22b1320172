import type { AttachmentKind, MediaType } from '../../core/vocabulary.ts'
import { type Problem, problem } from '../problems.ts'
import { type Boxed, readBoxed } from './boxes.ts'
import { MOST_BYTES, megabytes, WHAT_IS_TAKEN } from './limits.ts'
import { keptPhoto, MOST_POINTS, sizeOfPhoto } from './photo.ts'
import { isWholeOgg, isWholeWave, readWebm } from './streams.ts'

/** A file as somebody sent it. Its name is what the sender says, and proves nothing. */
export interface SentFile {
  filename: string
  bytes: Buffer
}

/** What is kept of it. */
export interface Media {
  kind: AttachmentKind
  media_type: MediaType
  bytes: Buffer
}

/** What a file is by its content, and the bytes to keep; null when it is damaged. */
interface Reading {
  kind: AttachmentKind
  read(): Promise<Media | null> | Media | null
}

/**
 * Tells by its content what a file is, and makes of it what is kept: photos upright, smaller and without what the camera wrote
 * about them; clips and recordings of a telephone with their place blanked. Problems: file-not-taken for anything else,
 * whatever its name says; file-too-large; invalid-input for one that is damaged or cut off.
 */
export async function readMedia(file: SentFile, pointer: string): Promise<Media> {
  const type = await contentType(file.bytes)
  const reading = readingOf(file.bytes, type, pointer)
  if (reading === null) throw notTaken(file, type, pointer)
  const most = MOST_BYTES[reading.kind]
  if (file.bytes.length > most) throw tooLarge(pointer, named(file), most)
  const media = await reading.read()
  if (media === null) throw damaged(file, reading.kind, pointer)
  return media
}

/** 413: says how much there may be. `most` in bytes. */
export function tooLarge(pointer: string, name: string, most: number): Problem {
  const detail = `${name} is too large: it may have ${megabytes(most)}. Send a smaller or shorter one.`
  return problem('file-too-large', { detail, errors: [{ pointer, detail, code: 'too_large' }] })
}

/** By its first bytes. Loaded when the first file comes. */
async function contentType(bytes: Buffer): Promise<string> {
  const { fileTypeFromBuffer } = await import('file-type')
  return (await fileTypeFromBuffer(bytes))?.mime.split(';')[0] ?? ''
}

function readingOf(bytes: Buffer, type: string, pointer: string): Reading | null {
  const as = (kind: AttachmentKind, media_type: MediaType): Media => ({ kind, media_type, bytes })
  const sound = (media_type: MediaType, isWhole: boolean): Reading => ({
    kind: 'sound',
    read: () => (isWhole ? as('sound', media_type) : null),
  })
  switch (type) {
    case 'image/jpeg':
    case 'image/png':
    case 'image/webp':
      return { kind: 'photo', read: () => photo(bytes, pointer) }
    case 'audio/mpeg':
      return sound('audio/mpeg', true)
    case 'audio/wav':
      return sound('audio/wav', isWholeWave(bytes))
    case 'audio/ogg':
      return sound('audio/ogg', isWholeOgg(bytes))
    case 'video/webm': {
      const webm = readWebm(bytes)
      if (webm?.has_picture === false) return sound('audio/webm', true)
      return { kind: 'clip', read: () => (webm === null ? null : as('clip', 'video/webm')) }
    }
    case 'video/mp4':
    case 'video/x-m4v':
    case 'audio/mp4':
    case 'audio/x-m4a':
      return boxed(readBoxed(bytes), type.startsWith('video/'), 'video/mp4')
    case 'video/quicktime':
      return boxed(readBoxed(bytes), true, 'video/quicktime')
    default:
      return null
  }
}

/** A telephone writes a recording of sound as an MP4 without a picture. */
function boxed(file: Boxed | null, looksLikeClip: boolean, clip: MediaType): Reading {
  const isClip = file?.has_picture ?? looksLikeClip
  const kind = isClip ? 'clip' : 'sound'
  return {
    kind,
    read: () => (file === null ? null : { kind, media_type: isClip ? clip : 'audio/mp4', bytes: file.blanked }),
  }
}

async function photo(bytes: Buffer, pointer: string): Promise<Media | null> {
  const size = await sizeOfPhoto(bytes).catch(() => null)
  if (size === null) return null
  if (size.width * size.height > MOST_POINTS) {
    const detail = `The photo says that it is ${size.width} by ${size.height} points; ${MOST_POINTS / 1e6} million in all are taken. Send a smaller one.`
    throw problem('file-too-large', { detail, errors: [{ pointer, detail, code: 'too_large' }] })
  }
  // what cannot be decoded is the fault of the file: the decoder says so by throwing
  const kept = await keptPhoto(bytes).catch(() => null)
  return kept === null ? null : { kind: 'photo', media_type: 'image/jpeg', bytes: kept }
}

function notTaken(file: SentFile, type: string, pointer: string): Problem {
  const isHeic = /^image\/hei[cf]/.test(type)
  const what =
    file.bytes.length === 0
      ? `${named(file)} is empty.`
      : isHeic
        ? `${named(file)} is a HEIC photo, which cannot be read here. Set the camera to “most compatible”, or share the photo as a JPEG.`
        : `${named(file)} is no photo, sound or clip that can be kept, whatever its name says. Taken are: ${WHAT_IS_TAKEN.replace(/^A/, 'a')}`
  return problem('file-not-taken', { detail: what, errors: [{ pointer, detail: what, code: 'not_taken' }] })
}

function damaged(file: SentFile, kind: AttachmentKind, pointer: string): Problem {
  const detail = `${named(file)} begins like a ${kind}, but it is cut off or damaged and cannot be read to its end. Take it once more, or send it again.`
  return problem('invalid-input', { detail, errors: [{ pointer, detail, code: 'damaged' }] })
}

function named({ filename }: SentFile): string {
  const name = fileName(filename)
  return name === null ? 'The file' : `“${name}”`
}

/** The name as it can be shown and stored: without folders and control characters, one line of at most 200 characters. */
export function fileName(sent: string): string | null {
  const last = sent.split(/[\\/]/).at(-1) ?? ''
  const name = last.replace(/\p{Cc}|\p{Cs}/gu, '').trim()
  return name === '' ? null : [...name].slice(0, 200).join('').trim()
}
