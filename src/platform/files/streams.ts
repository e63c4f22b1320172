/** The other containers of sound and clips, read as far as is needed to know that a file is whole and what is in it. */

/** RIFF WAVE (IBM and Microsoft, Multimedia Programming Interface 1.0, 1991): chunks, of which `fmt ` and `data` must be there and fit. */
export function isWholeWave(bytes: Buffer): boolean {
  let at = 12
  let hasFormat = false
  while (bytes.length - at >= 8) {
    const type = bytes.toString('latin1', at, at + 4)
    const length = bytes.readUInt32LE(at + 4)
    if (type === 'fmt ' && length >= 16) hasFormat = true
    // a recorder that does not know the length beforehand writes the largest number: then it goes on to the end
    if (type === 'data') return hasFormat && length > 0 && (length === 0xffffffff || at + 8 + length <= bytes.length)
    at += 8 + length + (length % 2)
  }
  return false
}

/** Ogg (RFC 3533, section 6): pages one after another to the end of the file, each as long as its table of segments says. */
export function isWholeOgg(bytes: Buffer): boolean {
  let at = 0
  let pages = 0
  while (at < bytes.length) {
    if (bytes.length - at < 27 || bytes.toString('latin1', at, at + 4) !== 'OggS') return false
    const segments = bytes.subarray(at + 27, at + 27 + bytes[at + 26]!)
    at += 27 + segments.length + segments.reduce((sum, length) => sum + length, 0)
    if (at > bytes.length) return false
    pages += 1
  }
  // the first page holds the header alone
  return pages > 1
}

/** A number of EBML (RFC 8794, section 4): the first byte says how many follow. `keep`: with its marker, as in an id. */
function ebmlNumber(
  bytes: Buffer,
  at: number,
  keep: boolean,
): { value: number; length: number; unknown: boolean } | null {
  const first = bytes[at]
  if (first === undefined || first === 0) return null
  const length = Math.clz32(first) - 23
  if (at + length > bytes.length) return null
  const digits = [...bytes.subarray(at + 1, at + length)]
  const head = keep ? first : first & (0xff >> length)
  const value = digits.reduce((sum, digit) => sum * 256 + digit, head)
  const unknown = !keep && head === 0xff >> length && digits.every(digit => digit === 0xff)
  return { value, length, unknown }
}

/** What holds what on the way to the kind of a track: segment, tracks, track entry. */
const HOLDERS = [0x18538067, 0x1654ae6b, 0xae]
const CLUSTER = 0x1f43b675
const TRACK_TYPE = 0x83
const VIDEO = 1
const AUDIO = 2
/** Far more than stand before the first content. */
const MOST_ELEMENTS = 10_000

/**
 * WebM (Matroska, RFC 9559; EBML, RFC 8794): whether its tracks have a picture. Null when it has no track of picture or
 * sound, or nothing in it. A live recording says no lengths, so that the end of one cannot be missed.
 */
export function readWebm(bytes: Buffer): { has_picture: boolean } | null {
  const kinds = new Set<number>()
  let hasContent = false
  let seen = 0
  const look = (depth: number, from: number, to: number): void => {
    let at = from
    while (at < to && !hasContent && seen < MOST_ELEMENTS) {
      seen += 1
      const id = ebmlNumber(bytes, at, true)
      const size = id === null ? null : ebmlNumber(bytes, at + id.length, false)
      if (id === null || size === null) return
      const content = at + id.length + size.length
      const end = size.unknown ? to : Math.min(content + size.value, to)
      if (id.value === CLUSTER) hasContent = true
      else if (id.value === TRACK_TYPE && end > content) kinds.add(bytes[content]!)
      else if (id.value === HOLDERS[depth]) look(depth + 1, content, end)
      at = end
    }
  }
  look(0, 0, bytes.length)
  if (!hasContent || !(kinds.has(VIDEO) || kinds.has(AUDIO))) return null
  return { has_picture: kinds.has(VIDEO) }
}
