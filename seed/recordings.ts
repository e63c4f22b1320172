import sharp from 'sharp'
import { type KeptFile, keepSentFile } from '../src/attachments/index.ts'
import { random } from '../src/core/random.ts'
import type { Hand } from './people.ts'

/** The photos and sounds of the story: drawn and played here, since there is no real van. */
export type KeptRecordings = Record<keyof typeof MADE, KeptFile>

const WIDTH = 1200
const HEIGHT = 900

/** A picture by what is drawn in it; grain as a camera has it in poor light. */
async function photo(drawn: string): Promise<Buffer> {
  const frame = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}" viewBox="0 0 1200 900">
    <defs>
      <radialGradient id="lamp" cx="40%" cy="32%" r="85%"><stop offset="0" stop-color="#fff" stop-opacity=".28"/><stop offset="1" stop-color="#000" stop-opacity=".6"/></radialGradient>
      <linearGradient id="steel" x2="0" y2="1"><stop offset="0" stop-color="#b9bec2"/><stop offset="1" stop-color="#6d7479"/></linearGradient>
    </defs>${drawn}<rect width="1200" height="900" fill="url(#lamp)"/></svg>`
  return sharp(Buffer.from(frame)).flatten().jpeg({ quality: 88 }).toBuffer()
}

/** The end of a hub with its seal; `wet` draws what has come past it. */
function hub(wet: boolean): Promise<Buffer> {
  const run = wet
    ? '<path d="M470 560 Q500 700 480 900 L640 900 Q650 720 700 590 Q600 640 470 560Z" fill="#1c1408" opacity=".85"/><path d="M505 600 Q530 700 520 860" stroke="#7d6a3c" stroke-width="14" fill="none" opacity=".7"/>'
    : ''
  return photo(`<rect width="1200" height="900" fill="#3a3c3c"/><path d="M0 700 L1200 560 L1200 900 L0 900Z" fill="#2a2b2b"/>
    <circle cx="590" cy="440" r="330" fill="url(#steel)"/><circle cx="590" cy="440" r="230" fill="#23201c"/>
    <circle cx="590" cy="440" r="214" fill="none" stroke="${wet ? '#4a3a18' : '#7a3b22'}" stroke-width="30"/>
    <circle cx="590" cy="440" r="150" fill="url(#steel)"/><circle cx="590" cy="440" r="62" fill="#15161a"/>
    ${bolts(590, 440, 282, 6)}${run}`)
}

/** A tensioner with its arm and ratchet, and the chain that runs past it. */
function tensioner(): Promise<Buffer> {
  const links = Array.from({ length: 15 }, (_, at) => {
    const y = 30 + at * 60
    return `<rect x="800" y="${y}" width="64" height="46" rx="22" fill="url(#steel)"/><circle cx="832" cy="${y + 23}" r="9" fill="#17191b"/>`
  })
  const teeth = Array.from({ length: 8 }, (_, at) => `<path d="M${330 + at * 34} 404 l17 -26 l17 26Z" fill="#4b5054"/>`)
  return photo(`<rect width="1200" height="900" fill="#2f3233"/><path d="M90 60 L620 40 L660 860 L70 820Z" fill="#43474a"/>
    <rect x="180" y="330" width="250" height="200" rx="30" fill="url(#steel)"/><rect x="320" y="404" width="310" height="60" rx="14" fill="#8b9196"/>
    ${teeth.join('')}<path d="M640 130 Q760 430 690 800 L736 812 Q820 430 690 116Z" fill="#15161a"/>${links.join('')}
    ${bolts(305, 430, 70, 2)}<path d="M620 250 L1010 210" stroke="#e9e4d8" stroke-width="9"/>`)
}

function bolts(x: number, y: number, radius: number, count: number): string {
  return Array.from({ length: count }, (_, at) => {
    const angle = (2 * Math.PI * at) / count
    const place = `cx="${(x + radius * Math.sin(angle)).toFixed(1)}" cy="${(y - radius * Math.cos(angle)).toFixed(1)}"`
    return `<circle ${place} r="30" fill="#4b5054"/><circle ${place} r="17" fill="#22262a"/>`
  }).join('')
}

/** The flank of the van with the scrape over the sill. */
function scrape(): Promise<Buffer> {
  const lines = [0, 18, 37, 61].map(
    (down, nth) =>
      `<path d="M${240 + nth * 40} ${560 + down} Q520 ${520 + down} ${930 - nth * 55} ${575 + down}" stroke="#e9e4d8" stroke-width="${9 - nth * 2}" fill="none"/>`,
  )
  return photo(`<rect width="1200" height="900" fill="#5b7487"/><rect y="700" width="1200" height="200" fill="#1f2427"/>
    <path d="M0 120 L1200 90 L1200 330 L0 360Z" fill="#253038"/><path d="M610 60 L622 720" stroke="#2d3c47" stroke-width="8"/>
    <path d="M0 470 L1200 452" stroke="#4a6072" stroke-width="16"/><rect x="500" y="420" width="96" height="30" rx="12" fill="#2c3a44"/>${lines.join('')}`)
}

const RATE = 22_050
const SECONDS = 3

/** Three seconds of a workshop: a rumble, and tones ([Hz, loudness 0 to 1]) that come and go with the turning wheel. */
function sound(tones: [number, number][]): Buffer {
  const chance = random(78)
  const samples = RATE * SECONDS
  const bytes = Buffer.alloc(44 + samples * 2)
  // RIFF WAVE: PCM, one channel, 16 bits
  bytes.write('RIFF', 0, 'latin1')
  bytes.writeUInt32LE(36 + samples * 2, 4)
  bytes.write('WAVEfmt ', 8, 'latin1')
  for (const [at, value, size] of [
    [16, 16, 4],
    [20, 1, 2],
    [22, 1, 2],
    [24, RATE, 4],
    [28, RATE * 2, 4],
    [32, 2, 2],
    [34, 16, 2],
  ] as const)
    bytes.writeUIntLE(value, at, size)
  bytes.write('data', 36, 'latin1')
  bytes.writeUInt32LE(samples * 2, 40)
  let rumble = 0
  for (let at = 0; at < samples; at += 1) {
    const t = at / RATE
    rumble += 0.04 * (chance.uniform() - 0.5 - rumble)
    const fade = Math.min(1, t * 8, (SECONDS - t) * 8)
    const turning = 0.75 + 0.25 * Math.sin(2 * Math.PI * 5.5 * t)
    const tone = tones.reduce((sum, [hz, loud]) => sum + loud * Math.sin(2 * Math.PI * hz * t), 0)
    bytes.writeInt16LE(
      Math.round(32_000 * Math.max(-1, Math.min(1, fade * (rumble * 1.6 + tone * turning)))),
      44 + at * 2,
    )
  }
  return bytes
}

/** Each by its name in the story: the file as a telephone would send it. */
const MADE = {
  scrape: { filename: 'left-door.jpg', make: scrape },
  seal_before: { filename: 'hub-1.jpg', make: () => hub(true) },
  tensioner: { filename: 'tensioner.jpg', make: tensioner },
  seal_after: { filename: 'hub-2.jpg', make: () => hub(false) },
  whine: {
    filename: 'belt-before.wav',
    make: () =>
      sound([
        [1240, 0.22],
        [2480, 0.1],
        [62, 0.1],
      ]),
  },
  quiet: { filename: 'belt-after.wav', make: () => sound([[62, 0.06]]) },
  hum: {
    filename: 'hum.wav',
    make: () =>
      sound([
        [78, 0.34],
        [156, 0.2],
        [234, 0.12],
      ]),
  },
} as const

/** Makes them all and keeps them in the folder beside the database, before the story is told. */
export async function makeRecordings(hand: Hand): Promise<KeptRecordings> {
  const made: Partial<KeptRecordings> = {}
  for (const [name, { filename, make }] of Object.entries(MADE)) {
    made[name as keyof typeof MADE] = await keepSentFile(hand, { filename, bytes: await make() }, '/file')
  }
  return made as KeptRecordings
}
