import type sharp from 'sharp'

/** The longest side of a photo that is kept: fine enough to read a part number, small enough for a job with many. */
const LONGEST_SIDE = 2560
const PREVIEW_SIDE = 800
/** A camera of fifty million points fits; a picture made to fill the memory does not. */
export const MOST_POINTS = 80_000_000

/** Loaded when the first photo comes: most starts of the program need none of it. */
async function load(): Promise<typeof sharp> {
  return (await import('sharp')).default
}

/** How many points across and down, read from the head of the file without decoding it. */
export async function sizeOfPhoto(bytes: Buffer): Promise<{ width: number; height: number }> {
  const { width, height } = await (await load())(bytes, { limitInputPixels: false }).metadata()
  return { width, height }
}

/**
 * The photo as it is kept: upright, at most 2560 points on its longer side, a JPEG without what the camera wrote about place,
 * device and time. Throws on anything that cannot be decoded to its end.
 */
export async function keptPhoto(bytes: Buffer): Promise<Buffer> {
  const picture = (await load())(bytes, { failOn: 'error', limitInputPixels: MOST_POINTS })
  return picture
    .autoOrient()
    .resize({ width: LONGEST_SIDE, height: LONGEST_SIDE, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .jpeg({ quality: 82 })
    .toBuffer()
}

/** A small one for pages, made anew each time: a browser keeps it, so nothing has to be stored twice. */
export async function previewOf(file: string): Promise<Buffer> {
  const picture = (await load())(file, { limitInputPixels: MOST_POINTS })
  return picture
    .resize({ width: PREVIEW_SIDE, height: PREVIEW_SIDE, fit: 'inside', withoutEnlargement: true })
    .jpeg({ quality: 76 })
    .toBuffer()
}
