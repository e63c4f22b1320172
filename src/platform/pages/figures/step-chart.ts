import { circle, type Drawing, line, path, type Shape, text } from './drawing.ts'
import { roundTicks, type Scale, straight, tickLabel } from './scale.ts'
import { stepPath } from './step-path.ts'

/** One step of a mean cumulative function. */
export interface StepPoint {
  at: number
  /** Events at this time: more than one makes a larger dot. */
  events: number
  mcf: number
  lower: number | null
  upper: number | null
}

export interface StepChartInput {
  id: string
  title: string
  description: string
  points: StepPoint[]
  /** When each vehicle was last seen, one tick each on the axis. */
  last_seen: number[]
  /** How far to the right the estimate holds. */
  end: number
  /** The ages between which enough are watched; outside of them the curve is thin and has no limits. Left out: everywhere. */
  well?: { from: number; until: number; beyond: string }
  /** Steps of the axis: 12 for months. Left out, round numbers. */
  tick_every?: number
  /** 'months in service', 'repairs per vehicle'. */
  across: string
  upwards: string
  /** Another group, thinner and with open dots; without limits, so that the two can be told apart. */
  compare?: { label: string; points: StepPoint[]; end: number }
}

interface Frame {
  width: number
  height: number
  suffix: string
  classes: string
  /** Only the wide drawing has room to say in words what its parts are. */
  says: boolean
}

const WIDE: Frame = { width: 680, height: 400, suffix: '-wide', classes: 'wide-drawing', says: true }
const NARROW: Frame = { width: 350, height: 300, suffix: '-narrow', classes: 'narrow-drawing', says: false }
const LEFT = 44
const TOP = 26
const BENEATH = 64

/** The mean cumulative function as steps, dashed limits, a dot at each event; wide, and narrow for small screens. */
export function stepChart(input: StepChartInput): Drawing[] {
  return [draw(input, WIDE), draw(input, NARROW)]
}

function draw(input: StepChartInput, frame: Frame): Drawing {
  const { id, title, description } = input
  const floor = frame.height - BENEATH
  const right = frame.width - 14
  const ticks = across(input, frame)
  const longest = Math.max(input.end, input.compare?.end ?? 0, ...input.last_seen, ticks.at(-1) ?? 0)
  const { from, until } = input.well ?? { from: 0, until: input.end }
  const isWell = (point: StepPoint) => point.at > from && point.at <= until
  const highest = Math.max(
    0.1,
    ...input.points.map(point => (isWell(point) ? (point.upper ?? point.mcf) : point.mcf)),
    ...(input.compare?.points ?? []).map(point => point.mcf),
  )
  const x = straight(0, longest, LEFT, right)
  const y = straight(0, highest, floor, TOP)
  const shapes = [
    ...upwardAxis(y, highest, right, floor),
    ...ticks.flatMap(at => [
      line('ink-line', x(at), floor, x(at), floor + 6),
      text('', x(at), floor + 22, tickLabel(at, ticks[1] ?? 1), 'middle'),
    ]),
    text('faint-text', right, floor + 40, input.across, 'end'),
    text('faint-text', LEFT, 12, input.upwards),
    ...limits(input.points.filter(isWell), until, x, y),
    ...curve('outline', input.points, [0, input.end], x, y),
    ...(until > from ? curve('ink-line', input.points, [from, until], x, y) : []),
    ...fewMarks(input, x, floor),
    ...input.points.map(point => circle('solid', x(point.at), y(point.mcf), point.events > 1 ? 5.2 : 3.6)),
    ...compared(input, x, y),
    ...input.last_seen.map(at => line('hair', x(at), floor - 9, x(at), floor)),
    ...(frame.says ? saying(input, input.points.filter(isWell), until, x, y, floor) : []),
  ]
  return {
    id: `${id}${frame.suffix}`,
    title,
    description,
    width: frame.width,
    height: frame.height,
    role: 'img',
    classes: frame.classes,
    shapes,
  }
}

function across(input: StepChartInput, frame: Frame): number[] {
  const every = input.tick_every
  const end = Math.max(input.end, input.compare?.end ?? 0)
  if (every === undefined) return roundTicks(0, end, frame.says ? 6 : 4)
  return Array.from({ length: Math.ceil(end / every) + 1 }, (_, step) => step * every)
}

function upwardAxis(y: Scale, highest: number, right: number, floor: number): Shape[] {
  const ticks = roundTicks(0, highest, 4)
  return ticks.flatMap(at => [
    line(at === 0 ? 'ink-line' : 'ruled', LEFT, y(at), right, y(at)),
    text('', LEFT - 8, at === 0 ? floor + 5 : y(at) + 5, tickLabel(at, ticks[1] ?? 1), 'end'),
  ])
}

/** The curve between two ages. */
function curve(
  mark: string,
  points: StepPoint[],
  [from, until]: readonly [number, number],
  x: Scale,
  y: Scale,
): Shape[] {
  const heightAt = (age: number) => points.findLast(point => point.at <= age)?.mcf ?? 0
  const between = points.filter(point => point.at > from && point.at <= until)
  const corners = [
    [from, heightAt(from)] as const,
    ...between.map(point => [point.at, point.mcf] as const),
    [until, heightAt(until)] as const,
  ]
  return [path(mark, stepPath(corners.map(([at, height]) => [x(at), y(height)] as const)))]
}

/** An upright where enough are watched from, and one where few remain; beneath, what the thin curve beyond them is. */
function fewMarks({ well, end }: StepChartInput, x: Scale, floor: number): Shape[] {
  if (well === undefined || (well.from === 0 && well.until >= end)) return []
  const bounds = well.until > well.from ? [well.from, well.until].filter(at => at > 0 && at < end) : []
  return [
    ...bounds.map(at => line('hair', x(at), TOP, x(at), floor)),
    text('faint-text', LEFT, floor + 40, well.beyond),
  ]
}

function limits(points: StepPoint[], end: number, x: Scale, y: Scale): Shape[] {
  return (['lower', 'upper'] as const).flatMap(which => {
    const known = points.flatMap(point => (point[which] === null ? [] : [[point.at, point[which]] as const]))
    const last = known.at(-1)
    if (last === undefined) return []
    return [
      path('guess', stepPath([...known, [end, last[1]] as const].map(([at, height]) => [x(at), y(height)] as const))),
    ]
  })
}

function compared({ compare }: StepChartInput, x: Scale, y: Scale): Shape[] {
  if (compare === undefined) return []
  return [
    ...curve('outline', compare.points, [0, compare.end], x, y),
    ...compare.points.map(point => circle('blank', x(point.at), y(point.mcf), 3.6)),
    text('faint-text halo', x(compare.end) - 4, y(compare.points.at(-1)?.mcf ?? 0) - 8, compare.label, 'end'),
  ]
}

function saying(
  { last_seen, end: whole }: StepChartInput,
  points: StepPoint[],
  end: number,
  x: Scale,
  y: Scale,
  floor: number,
): Shape[] {
  const last = points.at(-1)
  const first = Math.min(...last_seen)
  return [
    ...(last?.upper == null ? [] : [text('faint-text halo', x(end) - 4, y(last.upper) - 7, 'upper limit', 'end')]),
    ...(last?.lower == null ? [] : [text('faint-text halo', x(end) - 4, y(last.lower) + 17, 'lower limit', 'end')]),
    ...(last_seen.length === 0
      ? []
      : [
          text(
            'faint-text tiny-text halo',
            x(first) - 5,
            floor - 13,
            'each tick: a vehicle last seen',
            first > whole / 4 ? 'middle' : null,
          ),
        ]),
  ]
}
