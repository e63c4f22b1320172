import sharp, { type Sharp } from 'sharp'
import { expect } from 'vitest'
import type { Role } from '../../src/core/vocabulary.ts'
import type { TestApp } from './app.ts'
import { freshKey } from './http.ts'

/** Files as telephones and recorders make them, built by hand from the standards that src/platform/files names. */

/** A picture, left half dark, right half light: which way is up can be seen. */
export async function picture(width = 60, height = 40): Promise<Sharp> {
  const light = await sharp({ create: { width: width / 2, height, channels: 3, background: '#f0f0f0' } })
    .png()
    .toBuffer()
  return sharp({ create: { width, height, channels: 3, background: '#101010' } }).composite([
    { input: light, left: width / 2, top: 0 },
  ])
}

/** Taken with the telephone upright: stored on its side with the note "turn it", and with the place where it was taken. */
export async function photoWithPlace(): Promise<Buffer> {
  return (await picture())
    .withExif({
      IFD0: { Make: 'Invented', ImageDescription: 'A bearing' },
      IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 1230/100' },
    })
    .withMetadata({ orientation: 6 })
    .jpeg()
    .toBuffer()
}

export function wave(seconds = 0.1, rate = 8000): Buffer {
  const samples = Math.round(seconds * rate)
  const bytes = Buffer.alloc(44 + samples * 2)
  bytes.write('RIFF', 0, 'latin1')
  bytes.writeUInt32LE(36 + samples * 2, 4)
  bytes.write('WAVEfmt ', 8, 'latin1')
  bytes.writeUInt32LE(16, 16)
  bytes.writeUInt16LE(1, 20)
  bytes.writeUInt16LE(1, 22)
  bytes.writeUInt32LE(rate, 24)
  bytes.writeUInt32LE(rate * 2, 28)
  bytes.writeUInt16LE(2, 32)
  bytes.writeUInt16LE(16, 34)
  bytes.write('data', 36, 'latin1')
  bytes.writeUInt32LE(samples * 2, 40)
  for (let at = 0; at < samples; at += 1) bytes.writeInt16LE(Math.round(8000 * Math.sin(at / 3)), 44 + at * 2)
  return bytes
}

function box(type: string, ...content: (Buffer | string)[]): Buffer {
  const inside = Buffer.concat(content.map(part => (typeof part === 'string' ? Buffer.from(part, 'latin1') : part)))
  const head = Buffer.alloc(8)
  head.writeUInt32BE(8 + inside.length)
  head.write(type, 4, 'latin1')
  return Buffer.concat([head, inside])
}

/** A clip ('vide') or a recording ('soun') as a telephone writes it, with the place in its user data. */
export function boxedFile(brand: string, ...tracks: ('vide' | 'soun')[]): Buffer {
  const track = (kind: string) => box('trak', box('mdia', box('hdlr', Buffer.alloc(8), kind, Buffer.alloc(13))))
  const place = box('udta', box('\u00a9xyz', '\0\x12\x15\xc7+51.5034-000.1276/'))
  return Buffer.concat([
    box('ftyp', brand, '\0\0\0\0', brand),
    box('moov', box('mvhd', Buffer.alloc(100)), ...tracks.map(track), place),
    box('mdat', Buffer.alloc(64, 7)),
  ])
}

/** A live recording: segment and cluster say no length. */
export function webm(...tracks: ('video' | 'audio')[]): Buffer {
  const entry = (kind: string) => Buffer.from([0xae, 0x83, 0x83, 0x81, kind === 'video' ? 1 : 2])
  const entries = Buffer.concat(tracks.map(entry))
  return Buffer.concat([
    Buffer.from([0x1a, 0x45, 0xdf, 0xa3, 0x87, 0x42, 0x82, 0x84]),
    Buffer.from('webm'),
    Buffer.from([0x18, 0x53, 0x80, 0x67, 0x01, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]),
    Buffer.from([0x16, 0x54, 0xae, 0x6b, 0x80 + entries.length]),
    entries,
    Buffer.from([0x1f, 0x43, 0xb6, 0x75, 0x01, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff, 0xff]),
    Buffer.alloc(40),
  ])
}

export function ogg(): Buffer {
  const page = (content: Buffer, number: number) => {
    const head = Buffer.alloc(28)
    head.write('OggS', 0, 'latin1')
    head.writeUInt32LE(number, 18)
    head[26] = 1
    head[27] = content.length
    return Buffer.concat([head, content])
  }
  return Buffer.concat([
    page(Buffer.from('OpusHead\x01\x01\0\0\x80\xbb\0\0\0\0\0', 'latin1'), 0),
    page(Buffer.from('OpusTags and so on', 'latin1'), 1),
    page(Buffer.alloc(200, 3), 2),
  ])
}

/** Frames of MPEG 1 layer III at 128 kbit/s and 44.1 kHz. */
export function mp3(frames = 12): Buffer {
  const frame = Buffer.alloc(417)
  frame.set([0xff, 0xfb, 0x90, 0x64])
  return Buffer.concat(Array.from({ length: frames }, () => frame))
}

export interface Sending {
  as?: Role | null
  fields?: Record<string, string>
  /** The bytes of the part "file"; null sends none. */
  bytes?: Buffer | null
  name?: string
  type?: string
  key?: string
}

/** A multipart body as a browser writes it. */
export async function multipart(
  fields: Record<string, string>,
  files: { name: string; bytes: Buffer; type: string }[],
) {
  const form = new FormData()
  for (const [name, value] of Object.entries(fields)) form.append(name, value)
  for (const { name, bytes, type } of files) form.append('file', new Blob([new Uint8Array(bytes)], { type }), name)
  const body = new Response(form)
  return {
    type: body.headers.get('content-type') ?? '',
    payload: Buffer.from(await body.arrayBuffer()),
  }
}

/** Sends one attachment to the API; a status other than 201 has its problem. */
export async function sendAttachment(
  t: TestApp,
  { as = 'technician', fields = {}, bytes = null, name = 'file.jpg', type = 'image/jpeg', key = freshKey() }: Sending,
  wanted: number,
) {
  const { type: contentType, payload } = await multipart(fields, bytes === null ? [] : [{ name, bytes, type }])
  const reply = await t.app.inject({
    method: 'POST',
    url: '/api/attachments',
    headers: {
      'content-type': contentType,
      'idempotency-key': key,
      ...(as !== null && { authorization: `Bearer ${t.tokens[as]}` }),
    },
    payload,
  })
  expect(reply.statusCode, reply.body.slice(0, 800)).toBe(wanted)
  return { status: reply.statusCode, headers: reply.headers, text: reply.body, body: reply.json() }
}
