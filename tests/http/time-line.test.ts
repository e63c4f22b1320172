import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { addDays } from '../../src/core/calendar.ts'
import type { Drawing, Shape } from '../../src/platform/pages/figures/drawing.ts'
import { timeLine } from '../../src/platform/pages/figures/time-line.ts'
import type { TimeLineEvent } from '../../src/platform/pages/figures/time-line-parts.ts'

const UNTIL = '2031-11-04'

const happened = (number: number, on: string, more: Partial<TimeLineEvent> = {}): TimeLineEvent => ({
  ...{ number, on, distance: 100, by: 'us', is_failure: false, label: 'Battery: replace', note: '10 Jan 2030, 100 km' },
  ...more,
})
const drawn = (events: TimeLineEvent[], more: { farthest?: number } = {}) =>
  timeLine({ ...{ id: 'l', title: 't', description: 'd', unit: 'km', until: UNTIL, arcs: [] }, events, ...more })

type Text = Extract<Shape, { text: true }>
const texts = ({ shapes }: Drawing) => shapes.filter((shape): shape is Text => 'text' in shape)
const said = (text: Text) => text.spans.map(span => span.words).join('')

test('nothing of it falls below its edge where all work is ours and no arc is drawn', () => {
  for (const drawing of drawn([happened(1, '2030-01-10')])) {
    const lowest = Math.max(...texts(drawing).map(({ y }) => y))
    // a letter like g reaches some 5 below its line
    expect(lowest).toBeLessThan(drawing.height - 5)
  }
})

describe('labels', () => {
  /** Of the labels of events: where each stands, a character of the narrow type being about six wide at the least. */
  const boxes = (drawing: Drawing) =>
    texts(drawing)
      .filter(({ mark }) => mark.startsWith('strong-text'))
      .map(text => {
        const width = said(text).length * 6
        const left = text.anchor === 'end' ? text.x - width : text.anchor === 'middle' ? text.x - width / 2 : text.x
        return { words: said(text), left, right: left + width, y: text.y }
      })
  const overlaps = (drawing: Drawing) => {
    const all = boxes(drawing)
    return all.flatMap((one, place) =>
      all
        .slice(place + 1)
        .filter(other => Math.abs(one.y - other.y) < 12 && one.left < other.right && other.left < one.right)
        .map(other => `${one.words} over ${other.words}`),
    )
  }

  test('never cover each other, however much happened at one time', () => {
    const event = fc.record({
      day: fc.oneof(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 3000, max: 3060 })),
      km: fc.option(fc.integer({ min: 0, max: 200_000 }), { nil: null }),
      by: fc.constantFrom('us' as const, 'others' as const),
      is_failure: fc.boolean(),
    })
    const property = fc.property(
      fc.array(event, { minLength: 1, maxLength: 25 }),
      fc.integer({ min: 1, max: 300 }),
      (all, first) => {
        const events = all
          .sort((one, other) => one.day - other.day)
          .map(({ day, km, by, is_failure }, place) =>
            happened(first + place, addDays('2020-01-01', day), {
              ...{ distance: km, by, is_failure, label: 'Drive belt tensioner: renew' },
            }),
          )
        for (const drawing of drawn(events)) expect(overlaps(drawing)).toEqual([])
      },
    )
    fc.assert(property, { numRuns: 60 })
  })

  test('of twenty events on one day stand in rows as far as there is room, and the others are left out', () => {
    const events = Array.from({ length: 20 }, (_, place) => happened(100 + place, '2030-06-01'))
    for (const drawing of drawn(events)) {
      expect(overlaps(drawing)).toEqual([])
      expect(boxes(drawing).length).toBeGreaterThan(3)
      expect(Math.min(...boxes(drawing).map(({ y }) => y))).toBeGreaterThan(14)
    }
  })
})

describe('its two axes', () => {
  const registered = happened(1, '2012-05-03', { by: 'start', distance: null, label: 'First registered' })
  const years = (drawing: Drawing) =>
    texts(drawing)
      .map(said)
      .filter(words => /^20\d\d$/.test(words))

  /** The strokes of a break. */
  const leaning = ({ shapes }: Drawing) =>
    shapes.filter(shape => 'line' in shape && shape.mark === 'ink-line' && shape.y1 !== shape.y2).length

  test('begin near the first event where nothing is known of the years before, with a break after the registration', () => {
    for (const drawing of drawn([registered, happened(2, '2030-03-01', { distance: 40 }), happened(3, '2031-05-01')])) {
      expect(years(drawing)).toEqual(['2030', '2031'])
      expect(texts(drawing).some(text => said(text).startsWith('1'))).toBe(true)
      expect(leaning(drawing)).toBe(2)
    }
  })

  test('begin near the first distance where all of them lie in the farther half', () => {
    const events = [happened(1, '2030-03-01', { distance: 80_000 }), happened(2, '2031-05-01', { distance: 90_000 })]
    for (const drawing of drawn(events)) {
      expect(texts(drawing).map(said)).toContain('80\u00a0000 km')
      expect(leaning(drawing)).toBe(2)
      expect(texts(drawing).map(said)).not.toContain('0 km')
    }
    for (const drawing of drawn([...events, happened(3, '2031-06-01', { distance: 20_000 })]))
      expect(texts(drawing).map(said)).toContain('0 km')
  })

  test('are whole where something is known all along', () => {
    for (const drawing of drawn([registered, happened(2, '2016-03-01', { distance: 40 }), happened(3, '2031-05-01')])) {
      expect(years(drawing)[0]).toBe('2012')
      expect(leaning(drawing)).toBe(0)
    }
  })

  test('reach as far as it was driven, though only its odometer was read', () => {
    for (const drawing of drawn([registered], { farthest: 84_000 })) {
      expect(
        texts(drawing)
          .map(said)
          .some(words => /^[48]0\u00a0000$/.test(words)),
      ).toBe(true)
    }
  })
})
