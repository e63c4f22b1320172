/**
 * MP4, M4A and MOV after ISO/IEC 14496-12 (ISO base media file format), 4.2: a file is a row of boxes, each with its length
 * and a four-letter type, some of which hold boxes themselves. Read as far as is needed to know that the file is whole,
 * whether it has a picture, and where it says where and with what it was taken.
 */

interface Box {
  type: string
  start: number
  /** Where its content begins, after length and type. */
  content: number
  end: number
}

/** What holds what on the way to a track's kind. */
const HOLDERS = ['moov', 'trak', 'mdia']
/** More than a clip of this size can have; a file made of nothing else would fill the memory. */
const MOST_BOXES = 20_000
/** User data, item metadata and extensions (XMP): places, names, devices. Nothing that a player needs. */
const ABOUT = new Set(['udta', 'meta', 'uuid'])

/** The boxes between two places; null when one of them goes past the end: the file is cut off or damaged. */
function boxesIn(bytes: Buffer, from: number, to: number): Box[] | null {
  const boxes: Box[] = []
  let at = from
  // user data of QuickTime may end with four zero bytes
  while (to - at >= 8) {
    if (boxes.length === MOST_BOXES) return null
    const short = bytes.readUInt32BE(at)
    const isLong = short === 1
    if (isLong && to - at < 16) return null
    const length = isLong ? Number(bytes.readBigUInt64BE(at + 8)) : short === 0 ? to - at : short
    const content = at + (isLong ? 16 : 8)
    if (at + length > to || content > at + length) return null
    boxes.push({ type: bytes.toString('latin1', at + 4, at + 8), start: at, content, end: at + length })
    at += length
  }
  return boxes
}

/** Every box, down to the handlers of the tracks; null for a file that is not whole. */
function walk(bytes: Buffer, depth: number, from: number, to: number): Box[] | null {
  const here = boxesIn(bytes, from, to)
  if (here === null) return null
  const all: Box[] = []
  for (const box of here) {
    all.push(box)
    if (box.type !== HOLDERS[depth]) continue
    const inside = walk(bytes, depth + 1, box.content, box.end)
    if (inside === null) return null
    all.push(...inside)
  }
  return all
}

export interface Boxed {
  has_picture: boolean
  /** The same file, of the same length, with what it says about place, device and owner blanked. */
  blanked: Buffer
}

/** Null when the file is not whole: no table of its tracks, no content, or a box that goes past the end. */
export function readBoxed(bytes: Buffer): Boxed | null {
  const boxes = walk(bytes, 0, 0, bytes.length)
  if (boxes === null) return null
  const types = new Set(boxes.map(box => box.type))
  if (!types.has('moov') || !types.has('mdat')) return null
  // hdlr: version and flags, a reserved word, then the kind of the track
  const handlers = boxes.filter(box => box.type === 'hdlr' && box.end - box.content >= 12)
  const kinds = handlers.map(box => bytes.toString('latin1', box.content + 8, box.content + 12))
  if (!kinds.includes('vide') && !kinds.includes('soun')) return null
  const blanked = Buffer.from(bytes)
  for (const box of boxes.filter(each => ABOUT.has(each.type))) {
    // a box of free space: places in the file stay as they are, so that no table of it has to be written anew
    blanked.write('free', box.start + 4, 'latin1')
    blanked.fill(0, box.content, box.end)
  }
  return { has_picture: kinds.includes('vide'), blanked }
}
