import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { boltPattern } from '../../src/platform/pages/figures/bolt-pattern.ts'
import type { Drawing, Shape } from '../../src/platform/pages/figures/drawing.ts'
import { intervalRow, linearAxis, ratioAxis } from '../../src/platform/pages/figures/interval-row.ts'
import type { FastenerView, JointInput } from '../../src/platform/pages/figures/joint.ts'
import { stepChart } from '../../src/platform/pages/figures/step-chart.ts'
import { type StripDownBar, stripDown } from '../../src/platform/pages/figures/strip-down.ts'
import { timeLine } from '../../src/platform/pages/figures/time-line.ts'
import { placeLabels } from '../../src/platform/pages/figures/time-line-labels.ts'
import type { TimeLineEvent } from '../../src/platform/pages/figures/time-line-parts.ts'
import { qrCode } from '../../src/platform/pages/qr.ts'

function joint(places: [number, number][], states: FastenerView['state'][] = []): JointInput {
  return {
    id: 'j',
    title: 'A joint',
    word: 'bolt',
    stages: 2,
    fasteners: places.map(([x_mm, y_mm], at) => ({
      number: at + 1,
      x_mm,
      y_mm,
      bars: 1,
      at_stage: 2,
      state: states[at] ?? 'waiting',
      href: `#${at + 1}`,
    })),
  }
}

const flatten = (shapes: Shape[]): Shape[] =>
  shapes.flatMap(shape => ('shapes' in shape ? flatten(shape.shapes) : [shape]))
const rings = (drawing: Drawing) =>
  flatten(drawing.shapes).flatMap(shape => ('circle' in shape && shape.mark.startsWith('ring') ? [shape] : []))

/** The drawing that a telephone shows: the narrow twin, or the only one. */
const narrowest = (drawings: Drawing[]): Drawing => drawings.at(-1)!

const circleOf = (count: number, diameter: number): [number, number][] =>
  Array.from({ length: count }, (_, at) => {
    const angle = (2 * Math.PI * at) / count
    return [(diameter / 2) * Math.sin(angle), (-diameter / 2) * Math.cos(angle)]
  })

describe('boltPattern', () => {
  const place = fc.tuple(fc.integer({ min: -400, max: 400 }), fc.integer({ min: -400, max: 400 }))

  test('never draws a head under 56 px on a screen of 390, or it scrolls instead of shrinking', () => {
    fc.assert(
      fc.property(fc.array(place, { minLength: 1, maxLength: 24 }), places => {
        const { drawings, scrolls } = boltPattern(joint(places))
        const drawing = narrowest(drawings)
        const shown = scrolls ? 1 : 358 / drawing.width
        for (const ring of rings(drawing)) expect(2 * ring.r * shown).toBeGreaterThanOrEqual(56)
      }),
    )
  })

  test('draws to scale: distances keep their proportions, and every number is a number', () => {
    fc.assert(
      fc.property(fc.uniqueArray(place, { minLength: 3, maxLength: 16, selector: ([x, y]) => `${x} ${y}` }), places => {
        for (const drawing of boltPattern(joint(places)).drawings) {
          const drawn = rings(drawing)
          const pairs = places.slice(1).map(([x, y], at) => ({
            mm: Math.hypot(x - places[0]![0], y - places[0]![1]),
            drawn: Math.hypot(drawn[at + 1]!.cx - drawn[0]!.cx, drawn[at + 1]!.cy - drawn[0]!.cy),
          }))
          const longest = pairs.reduce((one, other) => (other.mm > one.mm ? other : one))
          // each coordinate is rounded to a tenth, so a distance may be off by the diagonal of a tenth, twice here
          for (const pair of pairs) {
            expect(Math.abs(pair.drawn - (longest.drawn / longest.mm) * pair.mm)).toBeLessThan(0.3)
          }
          expect(JSON.stringify(drawing)).not.toMatch(/"(?:x|y|cx|cy|r|width|height|x1|x2|y1|y2)":null/)
        }
      }),
    )
  })

  test.each([6, 8, 10, 12, 13])('keeps %i bolts on a circle beside the words, no two touching, all inside', count => {
    const { drawings, is_long, scrolls } = boltPattern(joint(circleOf(count, 90)))
    expect([drawings.length, is_long, scrolls]).toEqual([1, false, false])
    const drawing = drawings[0]!
    const drawn = rings(drawing)
    for (const [at, ring] of drawn.entries()) {
      const next = drawn[(at + 1) % count]!
      expect(Math.hypot(ring.cx - next.cx, ring.cy - next.cy)).toBeGreaterThan(2 * ring.r)
      expect(Math.min(ring.cx, ring.cy, drawing.width - ring.cx, drawing.height - ring.cy)).toBeGreaterThan(ring.r)
    }
  })

  test('turns a long joint upright for a telephone, a quarter clockwise', () => {
    const rows: [number, number][] = [0, 80, 160, 240, 320].flatMap(
      x =>
        [
          [x, 0],
          [x, 130],
        ] as [number, number][],
    )
    const { drawings, is_long } = boltPattern(joint(rows))
    expect(is_long).toBe(true)
    const [wide, upright] = drawings as [Drawing, Drawing]
    expect(wide.width).toBeGreaterThan(wide.height)
    expect(upright.height).toBeGreaterThan(upright.width)
    // the upper left place comes to stand at the upper right
    expect(rings(upright)[0]!.cx).toBeGreaterThan(rings(upright)[1]!.cx)
    expect(rings(upright)[0]!.cy).toBeLessThan(rings(upright)[2]!.cy)
  })

  test('says each state in the name of its head and in the description', () => {
    const drawing = boltPattern(joint(circleOf(4, 70), ['complete', 'next', 'redo', 'unsure'])).drawings[0]!
    const labels = drawing.shapes.flatMap(shape => ('link' in shape ? [shape.label] : []))
    expect(labels).toEqual([
      'Bolt 1, every stage conforms',
      'Bolt 2, next, stage 2',
      'Bolt 3, redo, stage 2: outside its limits',
      'Bolt 4, unsure, stage 2: within the uncertainty of a limit',
    ])
    expect(drawing.description).toContain('Four bolts on a circle of 70 mm')
    expect(drawing.description).toContain('Bolt 3 is a broken ring with the word redo.')
  })

  test('paints each stripe the same every time, and no two alike', () => {
    const stripes = (): string[] =>
      flatten(
        boltPattern(
          joint(
            [
              [0, 0],
              [90, 0],
            ],
            ['complete', 'complete'],
          ),
        ).drawings[0]!.shapes,
      ).flatMap(shape => ('path' in shape && shape.mark === 'stripe' ? [shape.d.replace(/[\d.]+ /g, '')] : []))
    expect(stripes()).toEqual(stripes())
    expect(new Set(stripes()).size).toBe(2)
  })
})

describe('intervalRow', () => {
  const row = { id: 'r', title: 't', description: 'd' }
  const lines = (drawing: Drawing) => drawing.shapes.flatMap(shape => ('line' in shape ? [shape] : []))

  test('places a straight axis by hand: 0 to 60 over 230 units with 8 at each end', () => {
    const drawing = intervalRow(linearAxis(0, 60, 3, 230), { ...row, estimate: 38, lower: 18.2, upper: 59.1 })
    // 8 + 214 * 18.2 / 60 and 8 + 214 * 59.1 / 60
    expect(lines(drawing)[0]).toMatchObject({ x1: 72.9, x2: 218.8 })
  })

  test('places a ratio on doubling steps, and puts an arrow where it goes on past the axis', () => {
    const drawing = intervalRow(ratioAxis(300), { ...row, estimate: 1, lower: 0, upper: 2 })
    // eight doublings over 284 units: 1 lies three steps in, 2 four
    expect(lines(drawing)[1]).toMatchObject({ x1: 8, x2: 150 })
    expect(drawing.shapes.filter(shape => 'path' in shape)).toHaveLength(1)
    const inside = intervalRow(ratioAxis(300), { ...row, estimate: 1, lower: 0.5, upper: 2 })
    expect(inside.shapes.filter(shape => 'path' in shape)).toHaveLength(0)
  })
})

describe('stripDown', () => {
  const bar = (id: string, after: string | null, hours: number): StripDownBar => ({
    id,
    after,
    hours,
    kind: 'step',
    label: id,
    note: '',
    short_note: '',
  })

  test('begins each bar where the one before it ends, lengths in proportion to hours', () => {
    const [wide] = stripDown({
      id: 's',
      title: 't',
      description: 'd',
      bars: [bar('a', null, 1), bar('b', 'a', 2), bar('c', 'a', 1)],
    })
    const bars = wide!.shapes.flatMap(shape => ('rect' in shape ? [shape] : []))
    const [a, b, c] = bars as [(typeof bars)[0], (typeof bars)[0], (typeof bars)[0]]
    expect(b.x + 1).toBeCloseTo(a.x + a.width - 1, 0)
    expect(c.x).toBe(b.x)
    expect((b.width - 2) / (a.width - 2)).toBeCloseTo(2, 1)
  })

  test('refuses a bar that hangs on one that does not stand before it', () => {
    expect(() => stripDown({ id: 's', title: 't', description: 'd', bars: [bar('b', 'a', 2)] })).toThrow(RangeError)
  })
})

describe('stepChart', () => {
  test('draws an empty one without inventing a number', () => {
    const input = {
      id: 'e',
      title: 't',
      description: 'd',
      points: [],
      last_seen: [],
      end: 12,
      across: 'months',
      upwards: 'repairs',
    }
    for (const drawing of stepChart(input))
      expect(JSON.stringify(drawing)).not.toMatch(/NaN|Infinity|"(?:x|y)[12]?":null/)
  })
})

describe('timeLine', () => {
  const event = (
    number: number,
    on: string,
    distance: number | null,
    more: Partial<TimeLineEvent> = {},
  ): TimeLineEvent => ({
    number,
    on,
    distance,
    by: 'us',
    is_failure: false,
    label: `Work number ${number}`,
    note: `${on}, ${distance} km`,
    ...more,
  })

  test('threads each event that has a distance, and only those', () => {
    const events = [event(1, '2030-01-10', 100), event(2, '2030-06-01', null), event(3, '2031-02-02', 9000)]
    const [wide] = timeLine({
      id: 'l',
      title: 't',
      description: 'd',
      unit: 'km',
      until: '2031-11-04',
      events,
      arcs: [{ from: 1, to: 3, is_confirmed: false }],
    })
    const marks = wide!.shapes.flatMap(shape => ('path' in shape ? [shape.mark] : []))
    expect(marks.filter(mark => mark === 'ruled')).toHaveLength(2)
    expect(marks.filter(mark => mark === 'guess')).toHaveLength(1)
  })

  test('refuses a date it cannot read', () => {
    const events = [event(1, '2030', 100)]
    expect(() =>
      timeLine({ id: 'l', title: 't', description: 'd', unit: 'km', until: '2031-11-04', events, arcs: [] }),
    ).toThrow(RangeError)
  })

  test('lays no label over another in the same row', () => {
    const frame = { left: 2, right: 1194, narrow: false }
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 2, max: 1194 }), { minLength: 1, maxLength: 12 }), xs => {
        const labels = placeLabels(
          xs.sort((a, b) => a - b).map((x, at) => ({ x, lines: [`${at} Belt`] })),
          frame,
        )
        const spans = labels.map(label => {
          const width = label.lines[0]!.length * 5
          return {
            level: label.level,
            from: label.side === 'left' ? label.x - width : label.x,
            to: label.side === 'left' ? label.x : label.x + width,
          }
        })
        for (const [at, one] of spans.entries()) {
          for (const other of spans.slice(at + 1)) {
            if (one.level !== other.level || one.level >= 7) continue
            expect(Math.min(one.to, other.to) - Math.max(one.from, other.from)).toBeLessThanOrEqual(0)
          }
        }
      }),
    )
  })
})

describe('qrCode', () => {
  test('draws the three finder patterns of ISO/IEC 18004, section 6.3.3, inside four quiet modules', () => {
    const { size, d } = qrCode('https://shop.example/w/1')
    const dark = new Set<string>()
    for (const [, x, y, long] of d.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
      for (let step = 0; step < Number(long); step++) dark.add(`${Number(x) + step} ${y}`)
    }
    // versions are 17 + 4 v modules wide
    expect((size - 8 - 17) % 4).toBe(0)
    const finder = ['1111111', '1000001', '1011101', '1011101', '1011101', '1000001', '1111111']
    for (const [left, top] of [
      [4, 4],
      [size - 11, 4],
      [4, size - 11],
    ] as const) {
      const seen = finder.map((row, y) =>
        [...row].map((_, x) => (dark.has(`${left + x} ${top + y}`) ? '1' : '0')).join(''),
      )
      expect(seen).toEqual(finder)
    }
    const all = [...dark].flatMap(at => at.split(' ').map(Number))
    expect([Math.min(...all), Math.max(...all)]).toEqual([4, size - 5])
  })
})
