import { boltPattern } from '../figures/bolt-pattern.ts'
import type { FastenerView, JointInput } from '../figures/joint.ts'
import type { Pattern } from './pattern.ts'

/** Joints: a circle at the bench, a long cover that turns upright, a crowded circle, free places, one nut, and on paper. */
export function jointPatterns(): Pattern[] {
  return [
    {
      partial: 'bolt-pattern',
      examples: [
        {
          name: 'Six bolts on a circle, one to do again',
          view: { ...boltPattern(driveFlange('/patterns')), key: true },
        },
        {
          name: 'Ten screws in two rows',
          view: { ...boltPattern(camCover()), caption: 'Positions to scale, heads all one size.' },
        },
        { name: 'Twelve on a circle', view: boltPattern(crowded()) },
        { name: 'A sump: free places', view: boltPattern(sump()) },
        { name: 'Five in a column', view: boltPattern(column()) },
        { name: 'One nut, done, as on paper', view: boltPattern(nut()) },
      ],
    },
  ]
}

type State = FastenerView['state']

function fastener(
  number: number,
  x_mm: number,
  y_mm: number,
  state: State,
  bars: number,
  stage: number,
  page: string | null,
): FastenerView {
  return { number, x_mm, y_mm, state, bars, at_stage: stage, href: page === null ? null : `${page}?fastener=${number}` }
}

/** Places on a circle, clockwise from the top. */
function onCircle(count: number, diameter: number, place: number): [number, number] {
  const angle = (2 * Math.PI * place) / count - Math.PI / 2
  return [(diameter / 2) * Math.cos(angle), (diameter / 2) * Math.sin(angle)]
}

function driveFlange(page: string | null): JointInput {
  const order = [1, 4, 2, 5, 3, 6]
  const states: State[] = ['complete', 'complete', 'redo', 'next', 'waiting', 'waiting']
  return {
    id: 'flange',
    title: 'Drive flange to rear hub, six bolts, stage 3 of 3',
    word: 'bolt',
    stages: 3,
    bore_mm: 34,
    datum: { x_mm: 21.5, y_mm: -37.2, label: 'peg' },
    fasteners: order.map((position, at) => fastener(at + 1, ...onCircle(6, 70, position - 1), states[at]!, 2, 3, page)),
  }
}

function camCover(): JointInput {
  const columns = [2, 2, 3, 1, 1, 3, 4, 0, 0, 4]
  const rows = [0, 1, 0, 1, 0, 1, 0, 1, 0, 1]
  const states: State[] = [
    'complete',
    'complete',
    'complete',
    'complete',
    'unsure',
    'complete',
    'next',
    'waiting',
    'waiting',
    'waiting',
  ]
  return {
    id: 'cover',
    title: 'Cam cover, ten screws in two rows, stage 2 of 2',
    word: 'screw',
    stages: 2,
    faces: 'front of engine',
    fasteners: columns.map((across, at) =>
      fastener(at + 1, across * 82, rows[at]! * 132, states[at]!, 1, 2, '/patterns'),
    ),
  }
}

function crowded(): JointInput {
  return {
    id: 'crowded',
    title: 'Flywheel, twelve bolts, stage 1 of 2',
    word: 'bolt',
    stages: 2,
    bore_mm: 40,
    fasteners: Array.from({ length: 12 }, (_, place) =>
      fastener(
        place + 1,
        ...onCircle(12, 92, (place * 5) % 12),
        place < 5 ? 'complete' : place === 5 ? 'next' : 'waiting',
        place < 5 ? 2 : 0,
        1,
        '/patterns',
      ),
    ),
  }
}

function sump(): JointInput {
  const places: [number, number][] = [
    [0, 0],
    [90, -6],
    [180, 0],
    [260, 20],
    [265, 110],
    [180, 140],
    [90, 146],
    [0, 140],
    [-20, 70],
  ]
  return {
    id: 'sump',
    title: 'Sump, nine screws, one stage',
    word: 'screw',
    stages: 1,
    faces: 'gearbox',
    fasteners: places.map(([x, y], at) => fastener(at + 1, x, y, at === 0 ? 'next' : 'waiting', 0, 1, '/patterns')),
  }
}

function column(): JointInput {
  return {
    id: 'column',
    title: 'Pump to its bracket, five bolts, one stage',
    word: 'bolt',
    stages: 1,
    fasteners: [0, 1, 2, 3, 4].map(row =>
      fastener(
        row + 1,
        row % 2 === 0 ? 0 : 14,
        row * 48,
        row < 2 ? 'complete' : 'waiting',
        row < 2 ? 1 : 0,
        1,
        '/patterns',
      ),
    ),
  }
}

function nut(): JointInput {
  return {
    id: 'nut',
    title: 'Axle nut',
    word: 'nut',
    stages: 1,
    fasteners: [fastener(1, 0, 0, 'complete', 1, 1, null)],
  }
}
