import { expect, test } from 'vitest'
import { timeLine } from '../../src/platform/pages/figures/time-line.ts'

test('nothing of it falls below its edge where all work is ours and no arc is drawn', () => {
  const event = {
    ...{ number: 1, on: '2030-01-10', distance: 100, by: 'us' as const, is_failure: false },
    ...{ label: 'Battery: replace', note: '10 Jan 2030, 100 km' },
  }
  const drawings = timeLine({
    ...{ id: 'l', title: 't', description: 'd', unit: 'km' as const, until: '2031-11-04', events: [event], arcs: [] },
  })
  for (const { shapes, height } of drawings) {
    const lowest = shapes.flatMap(shape => ('text' in shape ? [shape.y] : []))
    // a letter like g reaches some 5 below its line
    expect(Math.max(...lowest)).toBeLessThan(height - 5)
  }
})
