import { type Drawing, line, path, rect, type Shape, tenth, text } from './drawing.ts'
import { roundTicks, type Scale, straight } from './scale.ts'

/** One month of a rate, all rates as shares from 0 to 1. */
export interface MonthPoint {
  /** 'Oct'. */
  label: string
  count: number
  of: number
  rate: number | null
  lower: number | null
  upper: number | null
  /** From which rate on this month would be a signal, or null where too few jobs can never give one. */
  signal: number | null
  /** Said beside the tick: 'bad gasket batch'. */
  note?: string
}

export interface MonthChartInput {
  id: string
  title: string
  description: string
  /** In order; the last one is the month under review. */
  months: MonthPoint[]
  /** The year's rate, a thin line across. */
  year: number | null
}

interface Frame {
  width: number
  height: number
  right: number
  floor: number
  suffix: string
  classes: string
  /** In how many rows the months stand beneath, by turns; in the narrow drawing they need two. */
  rows: 1 | 2
  /** With the lines named at their right end. */
  says: boolean
}

const WIDE: Frame = {
  width: 1196,
  height: 262,
  right: 1092,
  floor: 210,
  suffix: '-wide',
  classes: 'very-wide-drawing',
  rows: 1,
  says: true,
}
const MIDDLE: Frame = {
  width: 760,
  height: 262,
  right: 652,
  floor: 210,
  suffix: '-middle',
  classes: 'middle-drawing',
  rows: 1,
  says: true,
}
const NARROW: Frame = {
  width: 350,
  height: 298,
  right: 342,
  floor: 208,
  suffix: '-narrow',
  classes: 'narrow-drawing of-very-wide',
  rows: 2,
  says: false,
}
const LEFT = 44
const TOP = 26

/** A rate month by month: tick and its interval, the year's rate, and the limit from which a month is a signal. */
export function monthChart(input: MonthChartInput): Drawing[] {
  return [draw(input, WIDE), draw(input, MIDDLE), draw(input, NARROW)]
}

function draw(input: MonthChartInput, frame: Frame): Drawing {
  const { id, title, description, months } = input
  const highest = Math.max(0.05, ...months.flatMap(month => [month.upper ?? 0, month.signal ?? 0, month.rate ?? 0]))
  const ticks = ticksOver(highest)
  const y = straight(0, ticks.at(-1)!, frame.floor, TOP)
  const step = (frame.right - LEFT) / Math.max(1, months.length)
  const middle: Scale = place => LEFT + (place + 0.5) * step
  const last = months.length - 1
  const shapes = [
    ...ticks.flatMap(rate => [
      line(rate === 0 ? 'ink-line' : 'ruled', LEFT, y(rate), frame.right, y(rate)),
      text('faint-text', LEFT - 7, y(rate) + 5, `${tenth(rate * 100)} %`, 'end'),
    ]),
    ...signalLine(months, step, y),
    ...(input.year === null ? [] : [line('hair', LEFT, y(input.year), frame.right, y(input.year))]),
    ...months.flatMap((month, place) =>
      oneMonth(month, middle(place), y, place === last, frame.floor + 34 * ((last - place) % frame.rows)),
    ),
    ...(frame.says ? inWords(input, middle, y, frame) : []),
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

/** Round steps from 0, the last of them at or above the highest: no line runs off the grid. */
function ticksOver(highest: number): number[] {
  const ticks = roundTicks(0, highest, 5)
  const [last = 0, step = highest] = [ticks.at(-1), ticks[1]]
  return last < highest ? [...ticks, last + step] : ticks
}

/** The limit as one dashed step line, broken where a month has none. */
function signalLine(months: MonthPoint[], step: number, y: Scale): Shape[] {
  let d = ''
  let drawing = false
  for (const [place, { signal }] of months.entries()) {
    if (signal !== null) {
      const from = tenth(LEFT + place * step)
      d += `${drawing ? 'V' : `M${from} `}${tenth(y(signal))}H${tenth(LEFT + (place + 1) * step)}`
    }
    drawing = signal !== null
  }
  return d === '' ? [] : [path('guess', d)]
}

/** `beneath` is the height from which its name and its count hang. */
function oneMonth(month: MonthPoint, x: number, y: Scale, isLast: boolean, beneath: number): Shape[] {
  const { lower, upper, rate } = month
  return [
    ...(lower === null || upper === null ? [] : [line('hair', x, y(lower), x, y(upper))]),
    ...(rate === null ? [] : [rect('solid', x - 7, y(rate) - 2, 14, 4)]),
    text(isLast ? 'strong-text' : 'faint-text', x, beneath + 18, month.label, 'middle'),
    text('faint-text tiny-text', x, beneath + 34, `${month.count}/${month.of}`, 'middle'),
  ]
}

function inWords({ months, year }: MonthChartInput, middle: Scale, y: Scale, frame: Frame): Shape[] {
  const signal = months.at(-1)?.signal ?? null
  const beside = frame.right + 6
  return [
    ...(signal === null ? [] : [text('faint-text', beside, y(signal) + 5, 'signal from here')]),
    ...(year === null ? [] : [text('faint-text', beside, y(year) + 5, `year: ${tenth(year * 100)} %`)]),
    ...months.flatMap(({ note, rate }, place) =>
      note === undefined || rate === null ? [] : [text('halo', middle(place) + 10, y(rate) - 6, note)],
    ),
  ]
}
