import { type Drawing, line, path, polyline, rect, type Shape, tenth, text } from './drawing.ts'

export interface AdapterInput {
  id: string
  /** What they are called: 'W-07', 'Crowfoot 17'. */
  wrench: string
  adapter: string
  /** From the drive to the grip mark. */
  wrench_length_mm: number
  /** From the drive to the fastener. */
  adapter_length_mm: number
  /** Between the wrench's axis, outwards, and the adapter; 0 to 180. */
  angle_deg: number
}

interface Frame {
  width: number
  suffix: string
  classes: string
}

const WIDE: Frame = { width: 640, suffix: '-wide', classes: 'wide-drawing' }
const NARROW: Frame = { width: 340, suffix: '-narrow', classes: 'narrow-drawing' }
const LEFT = 12
/** Room for the word beside the fastener. */
const RIGHT = 84
const TALLEST = 280
/** Half of how thick wrench and adapter are drawn: only their lengths are to scale. */
const HALF = 6
/** The grip's share of the wrench's length, on either side of its mark. */
const GRIP = 0.12

interface Point {
  x: number
  y: number
}

/** A wrench with an adapter in its square, to scale: the hand at the grip mark, and the lever that counts. */
export function adapterDrawing(input: AdapterInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

function draw(input: AdapterInput, frame: Frame): Drawing {
  const { wrench_length_mm: length, adapter_length_mm: own, angle_deg } = input
  const radians = (angle_deg * Math.PI) / 180
  const [along, up] = [own * Math.cos(radians), own * Math.sin(radians)]
  const [leftMm, rightMm] = [-GRIP * length, length + Math.max(0, along)]
  const scale = Math.min((frame.width - LEFT - RIGHT) / (rightMm - leftMm), TALLEST / Math.max(up, 1))
  // above the axis stands a line of words, or the arc of the angle with its letter
  const axis = Math.max(44 + up * scale, radians === 0 ? 44 : 74)
  const x = (mm: number) => LEFT + (mm - leftMm) * scale
  const hand = { x: x(0), y: axis }
  const drive = { x: x(length), y: axis }
  const fastener = { x: x(length + along), y: axis - up * scale }
  const shapes = [
    ...angleMarks(drive, radians),
    ...dimension('L', hand, drive, axis + 56),
    ...dimension('L + E·cos θ', hand, fastener, axis + 86),
    ...wrench(hand, drive, GRIP * length * scale),
    ...adapterBody(drive, fastener, radians),
    ...names(input, { drive, fastener, axis }, radians),
  ]
  return {
    id: `${input.id}${frame.suffix}`,
    width: frame.width,
    height: tenth(axis + 142),
    title: `Adapter ${input.adapter} on wrench ${input.wrench}, to scale`,
    description: inWords(input, along),
    role: 'img',
    classes: frame.classes,
    shapes,
  }
}

function inWords({ wrench, adapter, wrench_length_mm, adapter_length_mm, angle_deg }: AdapterInput, along: number) {
  const lever = tenth(wrench_length_mm + along)
  return `The hand holds wrench ${wrench} at its grip mark, L = ${wrench_length_mm} mm from the drive. Adapter ${adapter} leads from the drive to the fastener, E = ${adapter_length_mm} mm, at θ = ${angle_deg}° to the wrench. Along the wrench the fastener lies ${lever} mm from the hand.`
}

/** The wrench's axis goes on beyond the drive, dashed; an arc from it to the adapter. */
function angleMarks(drive: Point, radians: number): Shape[] {
  if (radians === 0) return []
  const [reach, letter] = [38, 54]
  const end = { x: tenth(drive.x + reach * Math.cos(radians)), y: tenth(drive.y - reach * Math.sin(radians)) }
  return [
    line('guess', drive.x, drive.y, drive.x + 70, drive.y),
    path('hair', `M${tenth(drive.x + reach)} ${tenth(drive.y)}A${reach} ${reach} 0 0 0 ${end.x} ${end.y}`),
    text('halo', drive.x + letter * Math.cos(radians / 2), drive.y - letter * Math.sin(radians / 2) + 5, 'θ', 'middle'),
  ]
}

function dimension(letter: string, from: Point, to: Point, y: number): Shape[] {
  return [
    line('hair', from.x, from.y, from.x, y + 5),
    line('hair', to.x, to.y, to.x, y + 5),
    line('ink-line', from.x, y, to.x, y),
    ...[from, to].map(({ x }) => line('ink-line', x - 4, y + 4, x + 4, y - 4)),
    text('halo', (from.x + to.x) / 2, y - 5, letter, 'middle'),
  ]
}

function wrench(hand: Point, drive: Point, grip: number): Shape[] {
  const { y } = hand
  return [
    rect('blank', hand.x, y - HALF, drive.x - hand.x, 2 * HALF),
    rect('blank', hand.x - grip, y - HALF - 4, 2 * grip, 2 * HALF + 8, 6),
    line('ink-line', hand.x, y - HALF - 4, hand.x, y + HALF + 4),
    rect('blank', drive.x - 15, y - 15, 30, 30, 15),
  ]
}

/** A bar from the drive's square to the fastener's six sides. */
function adapterBody(drive: Point, fastener: Point, radians: number): Shape[] {
  const [aside, upwards] = [HALF * Math.sin(radians), HALF * Math.cos(radians)]
  const corner = ({ x, y }: Point, side: 1 | -1) => [x + side * aside, y + side * upwards] as const
  const bar = [corner(drive, -1), corner(fastener, -1), corner(fastener, 1), corner(drive, 1)]
  const sides = [0, 1, 2, 3, 4, 5].map(nth => {
    const turn = radians + (nth * Math.PI) / 3
    return [fastener.x + 13 * Math.cos(turn), fastener.y - 13 * Math.sin(turn)] as const
  })
  return [
    path('blank', `${polyline(bar)}Z`),
    rect('solid', drive.x - 5, drive.y - 5, 10, 10),
    path('blank', `${polyline(sides)}Z`),
  ]
}

function names(
  { wrench_length_mm, adapter_length_mm, angle_deg }: AdapterInput,
  at: { drive: Point; fastener: Point; axis: number },
  radians: number,
): Shape[] {
  const { drive, fastener, axis } = at
  const middle = { x: (drive.x + fastener.x) / 2, y: (drive.y + fastener.y) / 2 }
  // an adapter that leads back lies over the wrench: its letter goes beneath, the fastener's name above
  const leadsBack = angle_deg > 150
  const side = leadsBack ? -1 : 1
  const lever = tenth(wrench_length_mm + adapter_length_mm * Math.cos(radians))
  return [
    text('', LEFT, axis - 20, 'hand at the grip mark'),
    text('halo', drive.x, axis + 32, 'drive', 'middle'),
    text('halo', middle.x - side * 19 * Math.sin(radians), middle.y - side * 19 * Math.cos(radians) + 5, 'E', 'middle'),
    leadsBack
      ? text('halo', fastener.x, fastener.y - 20, 'fastener', 'middle')
      : text('halo', fastener.x + 20, fastener.y + 5, 'fastener'),
    text('strong-text', LEFT, axis + 114, `L = ${wrench_length_mm} mm, E = ${adapter_length_mm} mm, θ = ${angle_deg}°`),
    text('strong-text', LEFT, axis + 134, `L + E·cos θ = ${lever} mm`),
  ]
}
