import type { ProcedureRevisionInput } from '../src/catalogue/index.ts'

const MANUAL = 'Invented maker’s manual, 3rd edition'

/** What the makers' manuals of the story say about joints: every layout, and both ways in which an order is printed. */
type Procedure = [name: string, revision: ProcedureRevisionInput]

export const PROCEDURES: Procedure[] = [
  [
    'CH-B-RH',
    {
      layout: 'circle',
      count: 6,
      positions: circle(6, 35),
      stages: [
        { kind: 'torque', target: 25, lower: 22.5, upper: 27.5 },
        { kind: 'torque', target: 50, lower: 46, upper: 54 },
        { kind: 'angle', target: 45, lower: 42, upper: 48 },
      ],
      thread: 'M10x1.25',
      class: '10.9',
      finish: 'Oiled, supplied so',
      marks: ['Flange to hub, across the joint', 'Which way round the spacer sits'],
      reuse: 'never',
      severity: 'safety',
      on_failure: 'replace',
      source: `${MANUAL}, page 212`,
    },
  ],
  [
    'CH-B-TA',
    {
      layout: 'circle',
      count: 3,
      positions: circle(3, 28),
      stages: [{ kind: 'torque', target: 40, lower: 36, upper: 44 }],
      thread: 'M8x1.25',
      class: '10.9',
      finish: 'Zinc plated, dry',
      reuse: 'after_inspection',
      severity: 'breakdown',
      on_failure: 'restart',
      source: `${MANUAL}, page 204`,
    },
  ],
  [
    'CP-FB',
    {
      layout: 'row',
      count: 2,
      stages: [{ kind: 'torque', target: 35, lower: 32, upper: 38 }],
      thread: 'M10x1.25',
      class: '8.8',
      finish: 'Zinc flake, dry',
      reuse: 'after_inspection',
      severity: 'safety',
      on_failure: 'restart',
      source: `${MANUAL}, page 188`,
    },
  ],
  [
    'PT-CC',
    {
      layout: 'rectangle',
      count: 10,
      rows: 2,
      stages: [
        { kind: 'torque', target: 5, lower: 4.4, upper: 5.6 },
        { kind: 'torque', target: 10, lower: 9, upper: 11 },
      ],
      thread: 'M6x1',
      class: '8.8',
      finish: 'Plain',
      marks: ['Cover to head at the front edge'],
      reuse: 'free',
      severity: 'breakdown',
      on_failure: 'restart',
      source: 'Invented maker’s manual for the Tramp, page 51',
    },
  ],
  [
    'CH-B-GP',
    {
      layout: 'free',
      positions: [
        { x_mm: 0, y_mm: 0 },
        { x_mm: 62, y_mm: -14 },
        { x_mm: 131, y_mm: 8 },
        { x_mm: 118, y_mm: 74 },
        { x_mm: 12, y_mm: 81 },
      ],
      order: [1, 4, 2, 5, 3],
      order_names: 'labels',
      stages: [
        { kind: 'torque', target: 8 },
        { kind: 'torque', target: 21, lower: 19, upper: 23 },
      ],
      thread: 'M8',
      class: '8.8',
      finish: 'Zinc plated',
      marks: ['Pump to housing', 'Shaft to coupling'],
      reuse: 'free',
      severity: 'breakdown',
      on_failure: 'restart',
      source: `${MANUAL}, page 131`,
    },
  ],
  [
    'PT-CH',
    {
      layout: 'rectangle',
      count: 8,
      rows: 2,
      stages: [
        { kind: 'torque', target: 20, lower: 18, upper: 22 },
        { kind: 'torque', target: 45, lower: 41, upper: 49 },
        { kind: 'loosen', target: 180, lower: 160, upper: 200 },
        { kind: 'torque', target: 30, lower: 27, upper: 33 },
        { kind: 'angle', target: 90, lower: 85, upper: 95 },
        { kind: 'check', target: 50, lower: 50, upper: 80 },
      ],
      thread: 'M10',
      class: '10.9',
      finish: 'Oiled under the head and in the thread',
      marks: ['Which stud is the long one'],
      reuse: 'never',
      severity: 'breakdown',
      on_failure: 'redo_joint',
      source: 'Invented maker’s manual for the Tramp, page 47',
    },
  ],
  [
    'PT-SP',
    {
      layout: 'row',
      count: 3,
      order: [2, 1, 3],
      order_names: 'positions',
      stages: [
        { kind: 'torque', target: 9 },
        { kind: 'torque', target: 9 },
      ],
      thread: '5/16-18 UNC',
      class: 'Grade 5',
      reuse: 'after_inspection',
      severity: 'nuisance',
      on_failure: 'restart',
      source: 'Invented maker’s manual for the Tramp, page 63',
    },
  ],
]

/** Places on a circle, clockwise from the top, in mm. */
function circle(count: number, radiusMm: number): { x_mm: number; y_mm: number }[] {
  return Array.from({ length: count }, (_, at) => ({
    x_mm: Number((radiusMm * Math.sin((2 * Math.PI * at) / count)).toFixed(2)),
    y_mm: Number((-radiusMm * Math.cos((2 * Math.PI * at) / count)).toFixed(2)),
  }))
}
