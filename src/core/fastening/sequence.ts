/** Where the fasteners of a joint stand when only their number is known. */
export interface SequenceInput {
  layout: 'circle' | 'row' | 'rectangle'
  count: number
  rows?: number | undefined
}

/** Half of an even circle first, each followed by the one opposite; an odd circle in steps of just under half. */
function circle(n: number): number[] {
  if (n === 1) return [0]
  if (n % 2 === 0) return circle(n / 2).flatMap(position => [position, position + n / 2])
  return Array.from({ length: n }, (_, step) => (step * ((n - 1) / 2)) % n)
}

/** From the middle outwards, to the right first. */
function row(n: number): number[] {
  const middle = Math.ceil(n / 2) - 1
  const steps = Array.from({ length: n }, (_, step) => middle + (step % 2 === 1 ? (step + 1) / 2 : -step / 2))
  return steps.filter(position => position >= 0 && position < n)
}

/**
 * Tightening order as positions counted from 1: round a circle the flange tables of ASME PCC-1 (legacy cross pattern, 4 to
 * 24) and the five-stud star; a row from position ⌈n/2⌉ outwards; a rectangle, numbered row by row, column by column in the
 * order of a row and in each column the rows likewise. A maker's own order always wins over this one.
 *
 * @throws RangeError when the count is not a whole number above zero, or does not divide into the rows of a rectangle.
 */
export function sequence(input: SequenceInput): number[] {
  const { layout, count, rows } = input
  if (!Number.isSafeInteger(count) || count < 1) throw new RangeError('sequence requires a whole count above zero')
  if (layout === 'circle') return circle(count).map(position => position + 1)
  if (layout === 'row') return row(count).map(position => position + 1)
  if (rows === undefined || !Number.isSafeInteger(rows) || rows < 1)
    throw new RangeError('sequence requires a whole number of rows above zero for a rectangle')
  if (count % rows !== 0) throw new RangeError('sequence requires a count that divides into the rows of the rectangle')
  const columns = count / rows
  return row(columns).flatMap(column => row(rows).map(line => line * columns + column + 1))
}
