import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { geometry } from '../../../src/core/fastening/geometry.ts'
import { type SequenceInput, sequence } from '../../../src/core/fastening/sequence.ts'
import { tighteningOrder } from '../../../src/core/fastening/tightening-order.ts'
import { publishedIds, publishedRow } from './published.ts'

const joints = fc
  .tuple(
    fc.constantFrom<SequenceInput['layout']>('circle', 'row', 'rectangle'),
    fc.integer({ min: 1, max: 12 }),
    fc.integer({ min: 1, max: 12 }),
  )
  .map(
    ([layout, rows, columns]): SequenceInput =>
      layout === 'rectangle' ? { layout, rows, count: rows * columns } : { layout, count: rows * columns },
  )
const circle = (count: number) => sequence({ layout: 'circle', count })
/** The same circle seen from behind, from the same first position. */
const mirrored = (order: number[]) => order.map(position => (position === 1 ? 1 : order.length + 2 - position))

interface Chart {
  order_by_position?: number[]
  order?: number[]
  ring_labels_clockwise: number[]
}
const chart = (id: string) => publishedRow<{ n: number }, Chart>('sequences', id)

describe('sequence', () => {
  const flanges = ['seq.pcc1.4', 'seq.pcc1.8', 'seq.pcc1.12', 'seq.pcc1.16']

  it('leaves no published row unchecked', () => {
    const wheels = ['seq.wheel.5', 'seq.wheel.6', 'seq.wheel.8']
    expect(publishedIds('sequences')).toEqual([...flanges, ...wheels, 'seq.numbering.trap'])
  })

  test.each(flanges)('%s is the flange table of ASME PCC-1', id => {
    const { inputs, expected } = chart(id)
    expect(circle(inputs.n)).toEqual(expected.order_by_position)
    expect(tighteningOrder(circle(inputs.n), 'positions').labels).toEqual(expected.ring_labels_clockwise)
  })

  it('draws the five-stud star (seq.wheel.5) and, seen from behind, the six-stud chart (seq.wheel.6)', () => {
    expect(circle(5)).toEqual(chart('seq.wheel.5').expected.order)
    expect(tighteningOrder(circle(5), 'positions').labels).toEqual(chart('seq.wheel.5').expected.ring_labels_clockwise)
    expect(mirrored(circle(6))).toEqual(chart('seq.wheel.6').expected.order)
    const labels = tighteningOrder(mirrored(circle(6)), 'positions').labels
    expect(labels).toEqual(chart('seq.wheel.6').expected.ring_labels_clockwise)
  })

  it("takes a maker's own chart as it is, where it differs (seq.wheel.8)", () => {
    const { order, ring_labels_clockwise } = chart('seq.wheel.8').expected
    expect(mirrored(circle(8))).not.toEqual(order)
    expect(tighteningOrder(order!, 'positions')).toEqual({ order, labels: ring_labels_clockwise })
    expect(tighteningOrder(ring_labels_clockwise, 'labels')).toEqual({ order, labels: ring_labels_clockwise })
  })

  it('keeps apart the two ways of numbering (seq.numbering.trap)', () => {
    const both = publishedRow<object, Record<string, number[]>>('sequences', 'seq.numbering.trap').expected
    const order = both['positions in tightening order']!
    const labels = both['labels around the ring']!
    expect(tighteningOrder(circle(12), 'positions')).toEqual({ order, labels })
    expect(order).not.toEqual(labels)
    for (const n of [4, 8, 16]) expect(tighteningOrder(circle(n), 'positions').labels).toEqual(circle(n))
    for (const n of [12, 20, 24, 28]) expect(tighteningOrder(circle(n), 'positions').labels).not.toEqual(circle(n))
  })

  it('goes round six bolts each followed by the one opposite', () => {
    expect(circle(6)).toEqual([1, 4, 2, 5, 3, 6])
    expect(circle(1)).toEqual([1])
  })

  it('works a row from the middle outwards, to the right first', () => {
    expect(sequence({ layout: 'row', count: 5 })).toEqual([3, 4, 2, 5, 1])
    expect(sequence({ layout: 'row', count: 4 })).toEqual([2, 3, 1, 4])
    expect(sequence({ layout: 'row', count: 1 })).toEqual([1])
  })

  it('works a rectangle column by column from the middle', () => {
    expect(sequence({ layout: 'rectangle', count: 10, rows: 2 })).toEqual([3, 8, 4, 9, 2, 7, 5, 10, 1, 6])
    expect(sequence({ layout: 'rectangle', count: 6, rows: 3 })).toEqual([3, 5, 1, 4, 6, 2])
  })

  it('names every position once', () => {
    fc.assert(
      fc.property(joints, joint => {
        const order = sequence(joint)
        expect([...order].sort((a, b) => a - b)).toEqual(Array.from({ length: joint.count }, (_, at) => at + 1))
      }),
    )
  })

  it('refuses a count that is none, or does not divide into rows', () => {
    expect(() => circle(0)).toThrow('sequence requires a whole count above zero')
    expect(() => circle(2.5)).toThrow('sequence requires a whole count above zero')
    expect(() => sequence({ layout: 'rectangle', count: 7, rows: 2 })).toThrow('divides into the rows')
    expect(() => sequence({ layout: 'rectangle', count: 6 })).toThrow('whole number of rows')
    expect(() => sequence({ layout: 'rectangle', count: 6, rows: 0 })).toThrow('whole number of rows')
  })
})

describe('tighteningOrder', () => {
  it('turns positions into labels and back', () => {
    fc.assert(
      fc.property(joints, joint => {
        const { order, labels } = tighteningOrder(sequence(joint), 'positions')
        expect(tighteningOrder(labels, 'labels')).toEqual({ order, labels })
        for (const [at, position] of order.entries()) expect(labels[position - 1]).toBe(at + 1)
      }),
    )
  })

  test.each([[[1, 1]], [[0, 1]], [[1, 3]], [[1.5, 1]]])('refuses %j', list => {
    expect(() => tighteningOrder(list, 'positions')).toThrow('tighteningOrder requires every number from 1 to 2 once')
  })
})

describe('geometry', () => {
  it('sets neighbours on a circle as far apart as asked, from the top, clockwise', () => {
    const places = geometry({ layout: 'circle', count: 6 }, 70)
    expect(places[0]!.x_mm).toBeCloseTo(0, 9)
    expect(places[0]!.y_mm).toBeCloseTo(-70, 9)
    expect(places[1]!.x_mm).toBeGreaterThan(0)
    expect(places[1]!.y_mm).toBeLessThan(0)
  })

  it('gives every joint as many places as fasteners, no two nearer than the spacing, round the origin', () => {
    fc.assert(
      fc.property(joints, fc.integer({ min: 5, max: 100 }), (joint, spacing) => {
        const places = geometry(joint, spacing)
        expect(places.length).toBe(joint.count)
        for (const axis of ['x_mm', 'y_mm'] as const)
          expect(Math.abs(places.reduce((sum, place) => sum + place[axis], 0))).toBeLessThan(
            1e-6 * joint.count * spacing,
          )
        const nearest = Math.min(
          ...places.flatMap((one, at) =>
            places.slice(at + 1).map(other => Math.hypot(one.x_mm - other.x_mm, one.y_mm - other.y_mm)),
          ),
        )
        if (joint.count > 1) expect(nearest / spacing).toBeCloseTo(1, 6)
      }),
    )
  })

  it('numbers a rectangle row by row from the top left', () => {
    expect(geometry({ layout: 'rectangle', count: 4, rows: 2 }, 10)).toEqual([
      { x_mm: -5, y_mm: -5 },
      { x_mm: 5, y_mm: -5 },
      { x_mm: -5, y_mm: 5 },
      { x_mm: 5, y_mm: 5 },
    ])
  })

  it('refuses what cannot be drawn', () => {
    expect(() => geometry({ layout: 'circle', count: 0 })).toThrow('geometry requires a whole count above zero')
    expect(() => geometry({ layout: 'rectangle', count: 5, rows: 2 })).toThrow('divides into the rows')
    expect(() => geometry({ layout: 'row', count: 5 }, 0)).toThrow('geometry requires a spacing above zero')
  })
})
