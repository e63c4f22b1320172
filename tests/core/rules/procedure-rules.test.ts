import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { revisionFaults } from '../../../src/catalogue/rules/revision-faults.ts'
import { numberedPlaces, orderOfPositions, type RevisionFacts } from '../../../src/catalogue/rules/tightening.ts'
import { boltOf, torqueCautions } from '../../../src/catalogue/rules/torque-sense.ts'

const torque = (target: number) => ({ kind: 'torque', target }) as const
const CIRCLE: RevisionFacts = { layout: 'circle', count: 6, stages: [torque(30)] }

const faults = (change: Partial<RevisionFacts>) => revisionFaults({ ...CIRCLE, ...change })
const said = (change: Partial<RevisionFacts>) => faults(change).map(({ pointer, code }) => `${pointer} ${code}`)

/** Any joint that can be tightened, with a maker's order or without. */
const joints = fc
  .tuple(
    fc.constantFrom('circle' as const, 'row' as const, 'rectangle' as const, 'free' as const),
    fc.integer({ min: 1, max: 10 }),
    fc.integer({ min: 1, max: 10 }),
    fc.constantFrom('positions' as const, 'labels' as const, null),
  )
  .chain(([layout, rows, columns, order_names]) => {
    const count = rows * columns
    const numbers = Array.from({ length: count }, (_, at) => at + 1)
    return fc.shuffledSubarray(numbers, { minLength: count }).map(order => ({
      layout,
      count,
      ...(layout === 'rectangle' && { rows }),
      ...(layout === 'free' && { positions: numbers.map(at => ({ x_mm: 10 * at, y_mm: at % 3 })) }),
      ...(order_names !== null && { order, order_names }),
    }))
  })

describe('the order of any joint', () => {
  it('names every position once, by rule, by positions and by labels', () => {
    fc.assert(
      fc.property(joints, joint => {
        const numbers = Array.from({ length: joint.count }, (_, at) => at + 1)
        const order = orderOfPositions(joint)
        expect([...order].sort((a, b) => a - b)).toEqual(numbers)
        const places = numberedPlaces(joint)
        expect(order.map(position => places[position - 1]!.number)).toEqual(numbers)
        if (joint.order_names === 'positions') expect(order).toEqual(joint.order)
        if (joint.order_names === 'labels') expect(places.map(({ number }) => number)).toEqual(joint.order)
        expect(revisionFaults({ ...joint, stages: [torque(20)] })).toEqual([])
      }),
    )
  })
})

describe('what cannot be tightened', () => {
  test.each<[string, Partial<RevisionFacts>, string[]]>([
    ['nothing wrong', {}, []],
    ['a limit on the wrong side', { stages: [{ ...torque(10), lower: 11 }] }, ['/stages/0/lower wrong']],
    ['limits without room', { stages: [{ ...torque(10), lower: 10, upper: 10 }] }, ['/stages/0/upper wrong']],
    ['one limit at the target', { stages: [{ ...torque(10), lower: 10 }] }, []],
    ['four turns', { stages: [torque(10), { kind: 'angle', target: 1440 }] }, []],
    ['more', { stages: [torque(10), { kind: 'angle', target: 1441 }] }, ['/stages/1/target does_not_fit']],
    ['loosening first', { stages: [{ kind: 'loosen', target: 90 }, torque(10)] }, ['/stages/0/kind wrong']],
    ['a check first', { stages: [{ kind: 'check', target: 9 }, torque(10)] }, ['/stages/0/kind wrong']],
    [
      'a check without any torque',
      {
        stages: [
          { kind: 'angle', target: 90 },
          { kind: 'check', target: 9 },
        ],
      },
      ['/stages/1/kind wrong'],
    ],
    ['a schedule that does not rise', { stages: [torque(40), { kind: 'loosen', target: 90 }, torque(20)] }, []],
    ['an uneven rectangle', { layout: 'rectangle', rows: 4 }, ['/rows wrong']],
    [
      'two in one place',
      {
        layout: 'free',
        count: undefined,
        positions: [
          { x_mm: 0, y_mm: 0 },
          { x_mm: 40, y_mm: 0 },
          { x_mm: 0, y_mm: 0.2 },
        ],
      },
      ['/positions/2 wrong'],
    ],
  ])('%s', (_, change, expected) => {
    expect(said(change)).toEqual(expected)
  })

  test.each([
    [[1, 2, 3, 4, 5, 5], '5 stands there twice'],
    [[1, 2, 3, 4, 5, 7], 'there is no fastener 7'],
    [[1, 2, 3, 4, 5], '6 is not there'],
  ])('an order of %j says why', (order, because) => {
    const [fault] = faults({ order, order_names: 'positions' })
    expect(fault).toMatchObject({ pointer: '/order', detail: expect.stringContaining(because) })
  })
})

// Proof torque of an M8 bolt of class 8.8 with friction 0.14 throughout: A_s 36.609 mm² · 580 MPa = 21 233 N; times
// 0.159·1.25 + 0.577·7.188·0.14 + 10.315/2·0.14 = 1.5014 mm is 31.9 N·m (ISO 898-1, VDI 2230; friction common practice).
describe('a torque that does not fit its bolt', () => {
  const m8 = { thread: 'M8', class: '8.8' }
  const cautions = (target: number, more = {}) => torqueCautions({ ...m8, stages: [torque(target)], ...more })

  it('is quietly taken up to the proof load, asked about above it, refused above twice', () => {
    expect(cautions(31.8)).toEqual([])
    expect(cautions(32)).toMatchObject([{ field: 'stages/0/target', detail: expect.stringContaining('32 N·m or so') }])
    expect(said({ ...m8, stages: [torque(63.7)] })).toEqual([])
    expect(said({ ...m8, stages: [torque(20), torque(63.9)] })).toEqual(['/stages/1/target does_not_fit'])
    expect(faults({ ...m8, stages: [torque(64)] })[0]!.detail).toContain('more than twice the 32 N·m or so')
  })

  it('may be higher the more friction the finish has', () => {
    expect(cautions(40, { finish: 'dry' })).toEqual([])
    expect(cautions(29, { finish: 'oiled' })).toHaveLength(1)
  })

  it('looks at checks and not at angles', () => {
    const stages = [torque(20), { kind: 'angle', target: 90 } as const]
    expect(said({ ...m8, stages })).toEqual([])
    const checked = [...stages, { kind: 'check', target: 70 } as const]
    expect(said({ ...m8, stages: checked })).toEqual(['/stages/2/target does_not_fit'])
  })

  it('is at most 3000 N·m where thread or class are not known', () => {
    for (const fastener of [{}, { thread: 'M8' }, { class: '8.8' }, { thread: '1/2-13 UNC', class: 'Grade 8' }]) {
      expect(said({ ...fastener, stages: [torque(3000)] })).toEqual([])
      expect(said({ ...fastener, stages: [torque(3001)] })).toEqual(['/stages/0/target does_not_fit'])
    }
  })

  it('asks for a class that metric bolts have, and leaves other threads their own', () => {
    expect(faults({ thread: 'M8', class: 'Z' })).toMatchObject([
      {
        pointer: '/class',
        code: 'unknown',
        detail: expect.stringContaining('4.6, 4.8, 5.6, 5.8, 6.8, 8.8, 9.8, 10.9'),
      },
    ])
    expect(said({ thread: 'M11', class: 'Z' })).toEqual(['/class unknown'])
    expect(said({ thread: 'M8', class: 'A2-70' })).toEqual([])
    expect(said({ thread: '3/8-16 UNC', class: 'Z' })).toEqual([])
    expect(said({ class: 'Z' })).toEqual([])
  })

  it('keeps a thread that it does not understand, and says so', () => {
    const [caution] = torqueCautions({ thread: 'M11', class: '8.8', stages: [torque(20)] })
    expect(caution).toMatchObject({ field: 'thread', detail: expect.stringContaining('not understood') })
    expect(boltOf({ thread: 'M10x9', class: '8.8' })).toContain('not understood')
    expect(boltOf({ thread: 'M10' })).toContain('class is not said')
  })
})
