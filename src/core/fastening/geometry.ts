import type { SequenceInput } from './sequence.ts'

/** A place in the joint's plane, in mm: x to the right, y down, as it is drawn on a page. */
export interface Place {
  x_mm: number
  y_mm: number
}

/**
 * Places for a drawing of a joint of which only the layout and the count are known: neighbours stand `spacingMm` apart,
 * the middle of the joint is the origin. A circle is numbered clockwise from the top, a row from the left, a rectangle row
 * by row from the top left.
 *
 * @throws RangeError when the count, rows or spacing is not above zero, or the count does not divide into the rows.
 */
export function geometry(input: SequenceInput, spacingMm = 40): Place[] {
  const { layout, count } = input
  const rows = layout === 'rectangle' ? (input.rows ?? 0) : 1
  if (!Number.isSafeInteger(count) || count < 1) throw new RangeError('geometry requires a whole count above zero')
  if (!Number.isSafeInteger(rows) || rows < 1 || count % rows !== 0)
    throw new RangeError('geometry requires a count that divides into the rows of the rectangle')
  if (!(spacingMm > 0 && Number.isFinite(spacingMm))) throw new RangeError('geometry requires a spacing above zero')
  const numbers = Array.from({ length: count }, (_, number) => number)
  if (layout === 'circle') {
    const radiusMm = count === 1 ? 0 : spacingMm / (2 * Math.sin(Math.PI / count))
    return numbers.map(number => {
      const angle = (2 * Math.PI * number) / count
      return { x_mm: radiusMm * Math.sin(angle), y_mm: -radiusMm * Math.cos(angle) }
    })
  }
  const columns = count / rows
  return numbers.map(number => ({
    x_mm: spacingMm * ((number % columns) - (columns - 1) / 2),
    y_mm: spacingMm * (Math.floor(number / columns) - (rows - 1) / 2),
  }))
}
