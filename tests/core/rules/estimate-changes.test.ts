import { expect, test } from 'vitest'
import { estimateChanges } from '../../../src/take-in/rules/estimate-changes.ts'

const line = (text: string, quantity: number, unit_minor: number, more: object = {}) => ({
  ...{ kind: 'labour', job_id: 'a', text, quantity, unit_minor, line_minor: quantity * unit_minor },
  ...more,
})

test('a version says which lines are new, gone and changed; what stayed and the order say nothing', () => {
  const [boot, screw] = [line('Boot', 1, 6000), line('Screw', 6, 90, { kind: 'part', part_id: 'p' })]
  expect(estimateChanges([boot, screw], [screw, boot])).toEqual([])
  const more = line('Screw, long', 8, 90, { kind: 'part', part_id: 'p' })
  const lamp = line('Lamp', 1, 500, { job_id: 'b' })
  expect(estimateChanges([boot, screw], [more, lamp])).toEqual([
    { text: 'Screw, long', what: 'changed', before: screw, after: more },
    { text: 'Lamp', what: 'new', before: null, after: lamp },
    { text: 'Boot', what: 'gone', before: boot, after: null },
  ])
})

test('of two lines for the same each is compared once', () => {
  const one = line('Strip-down, once', 1, 6000)
  expect(estimateChanges([one], [one, one])).toMatchObject([{ what: 'new' }])
  expect(estimateChanges([one, one], [one])).toMatchObject([{ what: 'gone' }])
  expect(estimateChanges([], [])).toEqual([])
})
