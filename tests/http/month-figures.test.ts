import { describe, expect, test } from 'vitest'
import type { Shape } from '../../src/platform/pages/figures/drawing.ts'
import { intervalAxis, linearAxis } from '../../src/platform/pages/figures/interval-row.ts'
import { monthChart } from '../../src/platform/pages/figures/month-chart.ts'

const wordsOf = (shape: Shape) => ('spans' in shape ? shape.spans.map(({ words }) => words).join('') : '')

describe('intervalAxis', () => {
  test('keeps the labels of both ends whole', () => {
    const { shapes, width } = intervalAxis(linearAxis(0, 80, 4, 220, ' %'), 'axis', 'Per cent')
    const labels = shapes.flatMap(shape => ('text' in shape ? [shape] : []))
    expect(labels.map(wordsOf)).toEqual(['0 %', '20 %', '40 %', '60 %', '80 %'])
    // seven units a character are room enough for the form's figures at 14
    expect(labels[0]!.x).toBeGreaterThanOrEqual(10.5)
    expect(labels[4]!.x).toBeLessThanOrEqual(width - 14)
    expect(labels[2]!.x, 'the others stand beneath their ticks').toBe(110)
  })
})

describe('monthChart', () => {
  const months = ['Aug', 'Sep', 'Oct'].map((label, at) => ({
    ...{ label, count: at, of: 17, rate: at / 17, lower: 0, upper: 0.27, signal: 0.294 },
  }))
  const chart = monthChart({ id: 'c', title: 'Comebacks', description: 'Three months', year: 0.05, months })

  test('its grid reaches above the signal line', () => {
    for (const { shapes } of chart) {
      const grid = shapes.flatMap(shape => ('line' in shape && shape.mark === 'ruled' ? [shape.y1] : []))
      const dashed = shapes.flatMap(shape => ('path' in shape && shape.mark === 'guess' ? [shape.d] : []))
      const heights = [...dashed.join('').matchAll(/M[\d.]+ ([\d.]+)/g)].map(([, y]) => Number(y))
      expect(heights).toHaveLength(1)
      expect(Math.min(...heights)).toBeGreaterThanOrEqual(Math.min(...grid))
    }
  })

  test('names and counts every month at every width, and has a drawing for a tablet', () => {
    expect(chart.map(({ classes }) => classes)).toContain('middle-drawing')
    for (const { shapes } of chart) {
      const said = shapes.flatMap(shape => ('text' in shape ? [wordsOf(shape)] : []))
      expect(said).toEqual(expect.arrayContaining(['Aug', 'Sep', 'Oct', '0/17', '1/17', '2/17']))
    }
  })
})
