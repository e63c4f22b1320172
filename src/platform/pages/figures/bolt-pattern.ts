import { boltHeads } from './bolt-heads.ts'
import { describeJoint } from './bolt-words.ts'
import { type Drawing, tenth } from './drawing.ts'
import type { JointFormat, JointInput } from './joint.ts'
import { boltCircle, type Extent, extentOf, type Place, upright } from './joint-geometry.ts'
import { jointSurroundings } from './joint-surroundings.ts'

export interface BoltPatternView {
  drawings: Drawing[]
  /** Too long to stand beside the words: give the page's .joint the class long. */
  is_long: boolean
  /** Wider than a telephone even upright, so its figure scrolls rather than shrinking the heads. */
  scrolls: boolean
}

/** A telephone's page is 358 wide inside its margins; a finger needs 56. A drawing wider than this many heads must turn. */
const HEADS_ACROSS = 358 / 56 - 0.2
/** Beside the words a drawing may be this much taller than wide. */
const TALLEST = 1.2

/**
 * A joint to scale, heads all of one size. A compact one is one drawing; a long one is a wide drawing with an upright twin
 * for narrow screens; one that is tall by itself stays upright. Throws RangeError when there are no fasteners.
 */
export function boltPattern(joint: JointInput): BoltPatternView {
  if (joint.fasteners.length === 0) throw new RangeError('boltPattern requires at least one fastener')
  const lying = { places: joint.fasteners.map(({ x_mm, y_mm }) => ({ x: x_mm, y: y_mm })), datum: datumPlace(joint) }
  if (joint.fasteners.length === 1) return { drawings: [draw(joint, lying, TALL)], is_long: false, scrolls: false }
  // only on a circle do numbers find room outside the heads when these stand close
  const formats = boltCircle(lying.places) === null ? [COMPACT] : [COMPACT, CROWDED]
  for (const format of formats) {
    const laid = layOut(joint, lying, format)
    if (laid.width <= fits(format) && laid.height <= laid.width * TALLEST) {
      return { drawings: [laid.draw()], is_long: false, scrolls: false }
    }
  }
  if (standsTall(lying.places)) {
    const tall = draw(joint, lying, TALL)
    return { drawings: [tall], is_long: false, scrolls: tall.width > fits(TALL) }
  }
  const standing = { places: upright(lying.places), datum: upright(lying.datum) }
  const turned = draw(joint, standing, UPRIGHT)
  return { drawings: [draw(joint, lying, WIDE), turned], is_long: true, scrolls: turned.width > fits(UPRIGHT) }
}

function standsTall(places: Place[]): boolean {
  const { width, height } = extentOf(places)
  return height > width
}

function fits(format: JointFormat): number {
  return 2 * format.head * HEADS_ACROSS
}

function datumPlace({ datum }: JointInput): Place[] {
  return datum === undefined ? [] : [{ x: datum.x_mm, y: datum.y_mm }]
}

const COMPACT: JointFormat = {
  suffix: '',
  classes: 'joint-drawing',
  head: 48.6,
  aim: 597.6,
  margin: 110,
  gap: 22,
  tallest: TALLEST,
  roomiest: 1e6,
  turned: false,
  words: 'joint-text',
}
const CROWDED: JointFormat = { ...COMPACT, margin: 84, gap: 6 }
const WIDE: JointFormat = {
  ...COMPACT,
  suffix: '-wide',
  classes: 'wide-drawing',
  head: 29,
  aim: 616,
  margin: 75,
  words: 'faint-text',
}
const TALL: JointFormat = {
  ...WIDE,
  suffix: '',
  classes: 'upright-drawing',
  aim: 358,
  margin: 66,
  tallest: 3,
  roomiest: 102,
}
const UPRIGHT: JointFormat = { ...TALL, suffix: '-upright', classes: 'narrow-drawing', turned: true }

interface Lie {
  places: Place[]
  datum: Place[]
}

/** How large a drawing would be in a format, before its heads are drawn: not every format is used. */
interface LaidOut {
  width: number
  height: number
  draw(): Drawing
}

function draw(joint: JointInput, mm: Lie, format: JointFormat): Drawing {
  return layOut(joint, mm, format).draw()
}

function layOut(joint: JointInput, mm: Lie, format: JointFormat): LaidOut {
  const round = boltCircle(mm.places)
  const own = extentOf(mm.places)
  const extent = round === null ? own : circleExtent(round, own.nearest)
  const perMm = unitsPerMm(extent, format)
  const width = Math.max(format.aim, 2 * format.margin + extent.width * perMm)
  const body = 2 * format.margin + extent.height * perMm
  const toDrawing = ({ x, y }: Place): Place => ({
    x: width / 2 + (x - extent.left - extent.width / 2) * perMm,
    y: format.margin + (y - extent.top) * perMm,
  })
  const places = mm.places.map(toDrawing)
  const surroundings = jointSurroundings({
    joint,
    format,
    width,
    body,
    perMm,
    circle: round && { centre: toDrawing(round.centre), radius: round.radius * perMm },
    path: inOrder(joint, places),
    datum: mm.datum.map(toDrawing),
  })
  const size = { width: tenth(width), height: tenth(Math.max(body, surroundings.bottom)) }
  return {
    ...size,
    draw: () => ({
      id: `${joint.id}${format.suffix}`,
      ...size,
      title: joint.title,
      description: describeJoint(joint, round && `on a circle of ${Math.round(2 * round.radius)} mm`),
      role: joint.fasteners.some(fastener => fastener.href !== null) ? 'group' : 'img',
      classes: format.classes,
      shapes: [...surroundings.shapes, ...boltHeads(joint, places, format.head, round && toDrawing(round.centre))],
    }),
  }
}

/** All of the circle, where the places may leave part of it empty. */
function circleExtent({ centre, radius }: { centre: Place; radius: number }, nearest: number): Extent {
  return { left: centre.x - radius, top: centre.y - radius, width: 2 * radius, height: 2 * radius, nearest }
}

/**
 * As large as fits, and never so small that two heads touch, unless two places are much nearer than all the others: then
 * those two overlap rather than the sheet growing without end. One fastener alone has no scale.
 */
function unitsPerMm(extent: Extent, format: JointFormat): number {
  const longest = Math.max(extent.width, extent.height)
  if (longest === 0) return 1
  const nearest = Math.max(extent.nearest, longest / 25)
  const filling = (format.aim - 2 * format.margin) / Math.max(extent.width, extent.height / format.tallest)
  return Math.max((2 * format.head + format.gap) / nearest, Math.min(filling, format.roomiest / nearest))
}

function inOrder(joint: JointInput, places: Place[]): Place[] {
  return joint.fasteners
    .map((fastener, at) => ({ number: fastener.number, place: places[at]! }))
    .sort((one, other) => one.number - other.number)
    .map(({ place }) => place)
}
