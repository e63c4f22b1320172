import { roughWidth } from './drawing.ts'

export interface Label {
  /** Of its middle when it stands alone as a number. */
  x: number
  /** How many rows of labels lie between it and the line. */
  level: number
  /** On which side of its stem it stands. */
  side: 'left' | 'right'
  /** None where there is no room for it. */
  lines: string[]
}

interface Wanted {
  x: number
  lines: string[]
}

/** Beyond this many rows a label shrinks to its number, and then goes; the table beneath has number and words. */
const ROWS = 7

/**
 * Where each label stands so that none covers another or another's stem. Labels stand left of their stem, each above those
 * it would cover; near the left edge they stand right of it. In a narrow drawing they are numbers. What would cover another whatever is done is left out.
 * @param wanted in order of x
 */
export function placeLabels(wanted: Wanted[], frame: { left: number; right: number; narrow: boolean }): Label[] {
  if (frame.narrow) return numbersOnly(wanted, frame)
  const labels = wanted.map(each => ({ ...each, level: 0, side: 'left' as Label['side'] }))
  chooseSides(labels, frame)
  for (const [place, label] of labels.entries()) {
    if (label.side === 'right') continue
    settle(
      label,
      labels.slice(0, place).filter(other => other.side === 'left'),
    )
  }
  // those on the right rise above what they reach over, the outermost last
  for (const [place, label] of [...labels.entries()].reverse()) {
    if (label.side === 'right') settle(label, labels.slice(place + 1))
  }
  return labels
}

function chooseSides(labels: Label[], frame: { left: number; right: number }): void {
  let taken = frame.left
  for (const label of labels) {
    const fitsLeft = label.x - widthOf(label) >= taken
    const fitsRight = label.x + widthOf(label) <= frame.right
    label.side = fitsLeft || !fitsRight ? 'left' : 'right'
    if (label.side === 'right') taken = label.x
  }
}

/** Above every other whose stem its words would cross or whose words it would cover. */
function settle(label: Label, others: Label[]): void {
  label.level = levelAbove(label, others)
  if (label.level < ROWS) return
  label.lines = [label.lines[0]?.split(' ')[0] ?? '']
  label.level = levelAbove(label, others)
  if (label.level <= ROWS) return
  label.lines = []
  label.level = 0
}

function levelAbove(label: Label, others: Label[]): number {
  const [from, to] = spanOf(label)
  const covered = others.filter(other => {
    if (other.lines.length === 0) return false
    const [otherFrom, otherTo] = spanOf(other)
    return otherFrom < to && otherTo > from
  })
  return Math.max(-1, ...covered.map(other => other.level)) + 1
}

/** From one end of its words to the other, its stem included. */
function spanOf(label: Label): [number, number] {
  const width = widthOf(label)
  return label.side === 'left' ? [label.x - width, label.x + 2] : [label.x - 2, label.x + width]
}

function widthOf(label: { lines: string[] }): number {
  return Math.max(...label.lines.map(words => roughWidth(words, 6.2))) + 12
}

/** Rows of numbers in a narrow drawing. */
const NUMBER_ROWS = 4

/** Each number over its event, in the lowest row where it touches no other; where no row has room for it, it is left out. */
function numbersOnly(wanted: Wanted[], frame: { left: number; right: number }): Label[] {
  const taken: number[] = []
  return wanted.map(({ x, lines }) => {
    const half = (roughWidth(lines[0] ?? '', 7.6) + 4) / 2
    const at = Math.min(Math.max(x, frame.left - 8 + half), frame.right + 8 - half)
    const free = Array.from({ length: NUMBER_ROWS }, (_, row) => row).find(row => (taken[row] ?? 0) <= at - half)
    if (free === undefined) return { x: at, level: 0, side: 'left', lines: [] }
    taken[free] = at + half
    return { x: at, level: free, side: 'left', lines }
  })
}
