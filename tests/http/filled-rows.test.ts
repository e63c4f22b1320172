import { expect, test } from 'vitest'
import { z } from 'zod'
import { filledRows } from '../../src/platform/forms/filled-rows.ts'
import { shapeOf } from '../../src/platform/forms/shape.ts'

const shape = shapeOf(
  z.strictObject({
    name: z.string(),
    points: z.array(z.strictObject({ at: z.number(), u: z.number().optional() })),
    words: z.array(z.string()),
  }),
)

test('rows that were left empty go, the others move up in their order, and everything else stays', () => {
  const typed = {
    name: '',
    'points[0][at]': ' ',
    'points[0][u]': '',
    'points[3][at]': '20',
    'points[3][u]': '',
    'points[10][u]': '2',
    words: ['', 'a'],
    'words[1]': 'b',
    'elsewhere[4][x]': 'y',
    'points[x][at]': '1',
  }
  expect(filledRows(typed, shape)).toEqual({
    name: '',
    'points[0][at]': '20',
    'points[0][u]': '',
    'points[1][u]': '2',
    words: ['', 'a'],
    'words[1]': 'b',
    'elsewhere[4][x]': 'y',
    'points[x][at]': '1',
  })
})
