import { createHash } from 'node:crypto'
import { readdirSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { join } from 'node:path'

export interface Asset {
  content: Buffer
  /** The content type, with its charset where it is text. */
  type: string
}

export interface Assets {
  /** Of everything together: the folder under /assets/ from which a browser may keep a file for ever. */
  hash: string
  /** A file by its path below that folder ('app.css', 'fonts/roboto-condensed-latin-wght-normal.woff2'), or null. */
  get(path: string): Asset | null
}

interface FontFace {
  family: string
  package: string
  style: 'normal' | 'italic'
  weights: string
  subset: 'latin' | 'latin-ext'
}

/** Which letters each file holds, as its package says: a browser fetches latin-ext only for a page that needs it. */
const RANGES = {
  latin:
    'U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+0304,U+0308,U+0329,U+2000-206F,U+20AC,U+2122,' +
    'U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD',
  'latin-ext':
    'U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,U+1D00-1DBF,U+1E00-1E9F,' +
    'U+1EF2-1EFF,U+2020,U+20A0-20AB,U+20AD-20C4,U+2113,U+2C60-2C7F,U+A720-A7FF',
} as const

const FORM = {
  family: 'Roboto Condensed Variable',
  package: 'roboto-condensed',
  style: 'normal',
  weights: '100 900',
} as const
const VOICE = { family: 'Source Serif 4 Variable', package: 'source-serif-4', weights: '200 900' } as const

/** The form is never slanted; a person's voice may be. */
const FONTS: FontFace[] = (['latin-ext', 'latin'] as const).flatMap(subset => [
  { ...FORM, subset },
  { ...VOICE, style: 'normal' as const, subset },
  { ...VOICE, style: 'italic' as const, subset },
])

const TYPES = {
  css: 'text/css; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  svg: 'image/svg+xml',
  woff2: 'font/woff2',
} as const

/**
 * Reads everything a page asks for, once: app.css (the font rules and templates/assets/css/*.css in the order of their
 * names), each script and picture of templates/assets, and the bundled fonts. Only what is listed here can be fetched; a path never
 * reaches the disk.
 */
export function loadAssets(assetsDir: string): Assets {
  const files = new Map<string, Asset>([['app.css', { content: styleSheet(assetsDir), type: TYPES.css }]])
  for (const kind of ['js', 'svg'] as const) {
    for (const name of namesIn(assetsDir, `.${kind}`)) {
      files.set(name, { content: readFileSync(join(assetsDir, name)), type: TYPES[kind] })
    }
  }
  for (const font of FONTS) files.set(fontPath(font), { content: fontFile(font), type: TYPES.woff2 })
  const digest = createHash('sha256')
  for (const [path, { content }] of files) digest.update(path).update(content)
  return { hash: digest.digest('hex').slice(0, 16), get: path => files.get(path) ?? null }
}

function styleSheet(assetsDir: string): Buffer {
  const folder = join(assetsDir, 'css')
  const sheets = namesIn(folder, '.css').map(name => readFileSync(join(folder, name), 'utf8'))
  return Buffer.from([...FONTS.map(fontRule), ...sheets].join('\n'))
}

function namesIn(folder: string, ending: string): string[] {
  return readdirSync(folder)
    .filter(name => name.endsWith(ending))
    .sort()
}

function fontName(font: FontFace): string {
  return `${font.package}-${font.subset}-wght-${font.style}.woff2`
}

function fontPath(font: FontFace): string {
  return `fonts/${fontName(font)}`
}

function fontFile(font: FontFace): Buffer {
  const require = createRequire(import.meta.url)
  return readFileSync(require.resolve(`@fontsource-variable/${font.package}/files/${fontName(font)}`))
}

/** The address is relative to app.css, so the rule need not know the hash. */
function fontRule(font: FontFace): string {
  return (
    `@font-face { font-family: "${font.family}"; font-style: ${font.style}; font-weight: ${font.weights}; font-display: swap; ` +
    `src: url("${fontPath(font)}") format("woff2"); unicode-range: ${RANGES[font.subset]}; }`
  )
}
