import { deflateSync } from 'node:zlib'
import fc from 'fast-check'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { readBoxed } from '../../src/platform/files/boxes.ts'
import { fileName, readMedia } from '../../src/platform/files/media.ts'
import { isWholeOgg, isWholeWave, readWebm } from '../../src/platform/files/streams.ts'
import { Problem } from '../../src/platform/problems.ts'
import { boxedFile, mp3, ogg, photoWithPlace, picture, wave, webm } from '../support/media.ts'

const read = (bytes: Buffer, filename = 'a file.jpg') => readMedia({ filename, bytes }, '/file')

async function refusal(bytes: Buffer, filename?: string): Promise<Problem> {
  const error = await read(bytes, filename).catch((caught: unknown) => caught)
  expect(error).toBeInstanceOf(Problem)
  return error as Problem
}

/** A PNG that says a size and holds next to nothing (PNG specification, third edition: signature, IHDR, IDAT, IEND). */
function pngThatSays(width: number, height: number): Buffer {
  const crcTable = Array.from({ length: 256 }, (_, n) => {
    let c = n
    for (let bit = 0; bit < 8; bit += 1) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
    return c >>> 0
  })
  const crc = (bytes: Buffer) =>
    (bytes.reduce((c, byte) => crcTable[(c ^ byte) & 0xff]! ^ (c >>> 8), 0xffffffff) ^ 0xffffffff) >>> 0
  const chunk = (type: string, content: Buffer) => {
    const named = Buffer.concat([Buffer.from(type, 'latin1'), content])
    const ends = Buffer.alloc(8)
    ends.writeUInt32BE(content.length)
    ends.writeUInt32BE(crc(named), 4)
    return Buffer.concat([ends.subarray(0, 4), named, ends.subarray(4)])
  }
  const head = Buffer.alloc(13)
  head.writeUInt32BE(width)
  head.writeUInt32BE(height, 4)
  head.set([1, 0], 8)
  return Buffer.concat([
    Buffer.from('89504e470d0a1a0a', 'hex'),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.alloc(100_000))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

describe('a photo', () => {
  test('is turned upright, and loses place, camera and every other note', async () => {
    const sent = await photoWithPlace()
    const before = await sharp(sent).metadata()
    expect(before).toMatchObject({ width: 60, height: 40, orientation: 6 })
    // the tag that points to the place, 0x8825 (Exif 2.32, table 3), the least byte first as this camera writes
    expect(before.exif?.includes(Buffer.from([0x25, 0x88]))).toBe(true)
    expect(sent.toString('latin1')).toContain('A bearing')
    const kept = await read(sent)
    expect(kept).toMatchObject({ kind: 'photo', media_type: 'image/jpeg' })
    const after = await sharp(kept.bytes).metadata()
    expect([after.width, after.height]).toEqual([40, 60])
    for (const note of ['orientation', 'exif', 'xmp', 'iptc', 'icc'] as const) expect(after[note], note).toBeUndefined()
    expect(kept.bytes.toString('latin1')).not.toMatch(/A bearing|Invented|Exif|GPS/)
    // note 6: the left side as stored is the top as seen; it was the dark one
    const { data } = await sharp(kept.bytes).greyscale().raw().toBuffer({ resolveWithObject: true })
    expect(data[40 * 5 + 20]).toBeLessThan(60)
    expect(data[40 * 55 + 20]).toBeGreaterThan(200)
  })

  test.each(['png', 'webp', 'jpeg'] as const)('may come as %s, whatever its name', async format => {
    const bytes = await (await picture()).toFormat(format).toBuffer()
    expect(await read(bytes, 'notes.txt')).toMatchObject({ kind: 'photo', media_type: 'image/jpeg' })
  })

  test('is made no larger than 2560 points on its longer side', async () => {
    const kept = await read(await (await picture(4000, 3000)).jpeg().toBuffer())
    expect(await sharp(kept.bytes).metadata()).toMatchObject({ width: 2560, height: 1920 })
  })

  test('that is cut off is refused as damaged', async () => {
    const whole = await (await picture(600, 400)).jpeg().toBuffer()
    const refused = await refusal(whole.subarray(0, Math.round(whole.length * 0.6)), 'bearing.jpg')
    expect(refused).toMatchObject({ type: 'invalid-input', status: 422 })
    expect(refused.more.detail).toMatch(
      /“bearing\.jpg” begins like a photo, but it is cut off or damaged.*send it again/,
    )
    expect(refused.more.errors?.[0]?.pointer).toBe('/file')
  })

  test('of 50 000 by 50 000 points in a few hundred bytes is refused before it is unpacked', async () => {
    const bomb = pngThatSays(50_000, 50_000)
    expect(bomb.length).toBeLessThan(1000)
    const began = process.memoryUsage.rss()
    const refused = await refusal(bomb)
    expect(refused).toMatchObject({ type: 'file-too-large', status: 413 })
    expect(refused.more.detail).toContain('50000 by 50000')
    expect(process.memoryUsage.rss() - began).toBeLessThan(200e6)
  })

  test('that is too large is refused with the limit', async () => {
    const large = Buffer.concat([await (await picture()).jpeg().toBuffer(), Buffer.alloc(20_000_001)])
    expect((await refusal(large)).more.detail).toMatch(/too large: it may have 20 MB/)
  })

  test('in HEIC is refused with what to set on the telephone', async () => {
    const heic = Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic\0\0\0\0mif1heic'), Buffer.alloc(40)])
    const refused = await refusal(heic, 'IMG_0001.HEIC')
    expect(refused).toMatchObject({ type: 'file-not-taken', status: 415 })
    expect(refused.more.detail).toMatch(/HEIC.*JPEG/)
  })
})

test.each([
  ['an HTML page', Buffer.from('<!doctype html><script>alert(1)</script>')],
  ['an SVG', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>')],
  ['an SVG with a prolog', Buffer.from('<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"/>')],
  ['a PDF', Buffer.from('%PDF-1.7 and so on')],
  ['a program', Buffer.from([0x7f, 0x45, 0x4c, 0x46, 2, 1, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0])],
  ['nothing', Buffer.alloc(0)],
])('%s that calls itself a JPEG is refused', async (_name, bytes) => {
  const refused = await refusal(bytes, 'photo.jpg')
  expect(refused).toMatchObject({ type: 'file-not-taken', status: 415 })
  expect(refused.more.detail).toContain('“photo.jpg”')
})

describe('sounds and clips', () => {
  test.each([
    ['a WAV', wave(), 'sound', 'audio/wav'],
    ['an MP3', mp3(), 'sound', 'audio/mpeg'],
    ['an Ogg recording', ogg(), 'sound', 'audio/ogg'],
    ['an M4A', boxedFile('M4A ', 'soun'), 'sound', 'audio/mp4'],
    ['an MP4 without a picture', boxedFile('mp42', 'soun'), 'sound', 'audio/mp4'],
    ['a WebM without a picture', webm('audio'), 'sound', 'audio/webm'],
    ['an MP4', boxedFile('isom', 'vide', 'soun'), 'clip', 'video/mp4'],
    ['a MOV', boxedFile('qt  ', 'vide', 'soun'), 'clip', 'video/quicktime'],
    ['a WebM', webm('video', 'audio'), 'clip', 'video/webm'],
  ])('%s is told by its content', async (_name, bytes, kind, media_type) => {
    expect(await read(bytes, 'x.jpg')).toMatchObject({ kind, media_type })
  })

  test('lose the place where they were taken, and keep their length', async () => {
    const sent = boxedFile('qt  ', 'vide')
    expect(sent.toString('latin1')).toContain('+51.5034')
    const { bytes } = await read(sent)
    expect(bytes.toString('latin1')).not.toMatch(/51\.5034|xyz/)
    expect(bytes.length).toBe(sent.length)
    expect(bytes.subarray(-64)).toEqual(Buffer.alloc(64, 7))
  })

  test.each([
    ['a WAV', wave().subarray(0, 1000)],
    ['a clip', boxedFile('isom', 'vide').subarray(0, -20)],
    ['a clip without its table', Buffer.concat([boxedFile('isom').subarray(0, 20), Buffer.alloc(40)])],
    ['an Ogg recording', ogg().subarray(0, -5)],
    ['a WebM', webm('video').subarray(0, 30)],
  ])('%s that is cut off is refused as damaged', async (_name, bytes) => {
    expect(await refusal(bytes)).toMatchObject({ type: 'invalid-input', status: 422 })
  })

  test('no bytes make the readers fail, or run away', () => {
    const starts = [wave(), boxedFile('isom', 'vide'), webm('video'), ogg()]
    const anyFile = fc
      .tuple(fc.constantFrom(...starts), fc.uint8Array({ maxLength: 300 }), fc.nat(200))
      .map(([start, bytes, at]) => Buffer.concat([start.subarray(0, at), bytes]))
    fc.assert(
      fc.property(anyFile, bytes => {
        for (const look of [isWholeWave, isWholeOgg, readWebm, readBoxed]) look(bytes)
      }),
    )
    // a tower of holders, and a file of nothing but empty boxes
    const boxOf = (type: string) => Buffer.concat([Buffer.from([0, 0, 0, 8]), Buffer.from(type)])
    expect(readBoxed(Buffer.concat(Array.from({ length: 400_000 }, () => boxOf('moov'))))).toBeNull()
    expect(readWebm(Buffer.alloc(1_000_000, Buffer.from([0xae, 0xff])))).toBeNull()
  })
})

test('a name is shown and stored without folders, control characters and excess', () => {
  expect(fileName('C:\\Users\\me\\scrape.jpg')).toBe('scrape.jpg')
  expect(fileName('../../etc/pass\u0000wd\n')).toBe('passwd')
  expect(fileName(' \t ')).toBeNull()
  expect(fileName('ü'.repeat(300))).toHaveLength(200)
})
