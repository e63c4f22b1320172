import { monthName } from '../../../core/days.ts'
import { backTestChart } from '../figures/back-test-chart.ts'
import { differenceChart } from '../figures/difference-chart.ts'
import { monthChart } from '../figures/month-chart.ts'
import { seasonChart } from '../figures/season-chart.ts'
import { type StepPoint, stepChart } from '../figures/step-chart.ts'
import { stripDown } from '../figures/strip-down.ts'
import { column, table } from '../table.ts'
import { life } from './life-pattern.ts'
import type { Pattern } from './pattern.ts'

/** The figures, from the made-up workshop. */
export function figurePatterns(): Pattern[] {
  return [
    {
      partial: 'figure',
      examples: [
        {
          name: 'The life of a vehicle',
          view: {
            drawings: life(),
            caption:
              'Each event stands on both lines, joined by a thread. Mark up: our work. Mark down: others’. Cross: a failure. Solid arc: cause confirmed by a finding. Dashed arc: only the numbers suggest it.',
          },
        },
        {
          name: 'Strip-down, counted once',
          view: {
            drawings: stripDownTree(),
            caption:
              'Length is hours. Filled: strip-down, counted once. Open: a job’s own hours. Together 6.1 h; one at a time 11.4 h.',
          },
        },
        {
          name: 'How a repair recurs, with its numbers beside it',
          view: {
            drawings: recurrence(),
            caption: 'Each dot is a month with a repair; a larger dot, more than one. Dashed: 95 % limits.',
            table: recurrenceTable(),
          },
        },
        {
          name: 'Two groups compared',
          view: {
            drawings: compared(),
            caption: 'Repairs per vehicle of the first less those of the second. Dashed: 95 % limits.',
          },
        },
        {
          name: 'The season of a trouble',
          view: {
            drawings: season(),
            caption: 'Dots: how often it came. Open bars: as often as the work alone would bring it.',
          },
        },
        {
          name: 'A rate month by month',
          view: {
            drawings: comebacks(),
            caption:
              'Tick: the month. Thin upright: its 95 % interval. Dashed: a signal. Under each month: comebacks of jobs.',
          },
        },
        {
          name: 'What was foretold, and what happened',
          view: {
            drawings: backTest(),
            caption: 'Claims foretold for 90 days at each month-end, ring: what happened.',
          },
        },
      ],
    },
  ]
}

function stripDownTree() {
  const bar = (id: string, after: string | null, kind: 'step' | 'job', label: string, hours: number, of: string) => ({
    id,
    after,
    kind,
    label,
    hours,
    note: kind === 'step' ? `${hours.toFixed(1)} h, once for ${of}` : `${hours.toFixed(1)} h`,
    short_note: kind === 'step' ? `${hours.toFixed(1)} h ${of.replaceAll(' ', '')}` : `${hours.toFixed(1)} h`,
  })
  return stripDown({
    id: 'tree',
    title: 'Strip-down tree for work order 2031-0231',
    description: 'Each bar is as long as its hours. Together 6.1 hours, one at a time 11.4 hours.',
    bars: [
      bar('wheel', null, 'step', 'Wheel off', 0.3, 'A B C D'),
      bar('guard', 'wheel', 'step', 'Belt guard off', 0.3, 'A'),
      bar('a', 'guard', 'job', 'A  Final drive belt: set tension', 0.5, ''),
      bar('brake', 'wheel', 'step', 'Brake carrier aside', 0.4, 'B C D'),
      bar('shaft', 'brake', 'step', 'Axle shaft out', 0.9, 'B C D'),
      bar('b', 'shaft', 'job', 'B  Axle shaft boot: replace', 0.6, ''),
      bar('carrier', 'shaft', 'step', 'Hub carrier out', 1.1, 'C D'),
      bar('hub', 'carrier', 'step', 'Drive flange and hub off', 0.7, 'C D'),
      bar('c', 'hub', 'job', 'C  Rear wheel bearing: replace', 1.0, ''),
      bar('d', 'hub', 'job', 'D  Hub seal: replace', 0.3, ''),
    ],
  })
}

const STEPS: StepPoint[] = [
  { at: 6, events: 1, mcf: 0.04, lower: 0.01, upper: 0.3 },
  { at: 12, events: 1, mcf: 0.17, lower: 0.07, upper: 0.42 },
  { at: 21, events: 1, mcf: 0.3, lower: 0.16, upper: 0.56 },
  { at: 26, events: 3, mcf: 0.58, lower: 0.38, upper: 0.87 },
  { at: 30, events: 1, mcf: 0.72, lower: 0.5, upper: 1.03 },
  { at: 35, events: 1, mcf: 0.93, lower: 0.62, upper: 1.37 },
  { at: 42, events: 1, mcf: 1.02, lower: 0.71, upper: 1.46 },
  { at: 49, events: 1, mcf: 1.22, lower: 0.91, upper: 1.63 },
]

function recurrence() {
  return stepChart({
    id: 'recurs',
    title: 'Alternator repairs per vehicle by months in service',
    description:
      'Mean cumulative function for 23 vehicles. It reaches 0.30 at 21 months, then climbs to 1.22 at 49 months, limits 0.91 to 1.63.',
    points: STEPS,
    last_seen: [23, 28, 30, 33, 41, 45, 47, 51, 52, 55, 58],
    end: 58,
    tick_every: 12,
    across: 'months in service',
    upwards: 'repairs per vehicle',
  })
}

function recurrenceTable() {
  return table({
    stacks: false,
    caption: 'Every step',
    columns: [
      column('Months', 'figure'),
      column('Repairs', 'figure'),
      column('Per vehicle', 'figure'),
      column('Limits', 'figure'),
    ],
    rows: STEPS.map(step => ({
      cells: [
        String(step.at),
        String(step.events),
        step.mcf.toFixed(2),
        `${step.lower?.toFixed(2)} to ${step.upper?.toFixed(2)}`,
      ],
    })),
  })
}

function compared() {
  return differenceChart({
    id: 'compared',
    title: 'Alternator repairs, vans less scooters',
    description: 'At 36 months vans have had 0.4 more, limits −0.1 to 0.9.',
    points: [
      { at: 6, difference: 0.1, lower: -0.1, upper: 0.3 },
      { at: 14, difference: 0.25, lower: -0.1, upper: 0.6 },
      { at: 30, difference: 0.4, lower: -0.1, upper: 0.9 },
    ],
    ...{ from: 0, end: 36 },
    across: 'months in service',
    above: 'more on vans',
    below: 'more on scooters',
  })
}

function season() {
  const counts = [5, 4, 3, 1, 0, 1, 0, 0, 1, 2, 3, 4]
  return seasonChart({
    id: 'season',
    title: 'Does not start, by month',
    description: 'Most in winter: 5 in January, none in July. The middle of it lies in January.',
    names: MONTH_NAMES,
    counts,
    expected: counts.map(() => 2),
    direction: 10,
  })
}

const MONTH_NAMES = Array.from({ length: 12 }, (_, month) => monthName(month + 1))
const MONTHS = ['Nov', 'Dec', 'Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct']

function comebacks() {
  const counts = [
    [2, 49],
    [1, 38],
    [3, 44],
    [2, 47],
    [2, 58],
    [7, 60],
    [3, 55],
    [2, 63],
    [1, 57],
    [2, 41],
    [2, 59],
    [3, 61],
  ] as const
  return monthChart({
    id: 'comebacks',
    title: 'Comebacks per job handed back, November 2030 to October 2031',
    description: 'October 2031: 3 of 61 jobs. No month reaches the signal limit; April 2031 came closest with 7 of 60.',
    year: 0.045,
    months: counts.map(([count, of], place) => ({
      label: MONTHS[place]!,
      count,
      of,
      rate: count / of,
      // near enough for a picture: this page shows how it looks, not what it computes
      lower: Math.max(0, count / of - 0.04),
      upper: count / of + 0.09,
      signal: of < 40 ? null : 0.16,
      ...(count === 7 ? { note: 'bad gasket batch' } : {}),
    })),
  })
}

function backTest() {
  const happened = [4, 6, 5, 3, 6, 5, 11, 7, 5, 6, 4, 7]
  return backTestChart({
    id: 'foretold',
    title: 'Claims foretold and what happened, twelve month-ends',
    description:
      'Each line is the 90 per cent interval for the next 90 days, the tick its middle, the ring what happened. 11 of 12 rings lie within.',
    months: MONTHS.map((label, place) => ({
      label,
      expected: 5.3 + place / 10,
      lower: 2,
      upper: 9,
      happened: happened[place]!,
    })),
  })
}
