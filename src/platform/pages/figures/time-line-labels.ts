import { roughWidth } from './drawing.ts'

export interface Label {
  /** Of its middle when it stands alone as a number. */
  x: number
  /** How many rows of labels lie between it and the line. */
  level: number
  /** On which side of its stem it stands. */
  side: 'left' | 'right'
  lines: string[]
}

interface Wanted {
  x: number
  lines: string[]
}

/** Beyond this many rows a label shrinks to its number; the table beneath has the words. */
const ROWS = 7

/**
 * Where each label stands so that none covers another or another's stem. Labels stand left of their stem, each above those
 * it would cover; near the left edge they stand right of it. In a narrow drawing they are numbers, side by side.
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
  label.level = Math.min(levelAbove(label, others), ROWS)
}

function levelAbove(label: Label, others: Label[]): number {
  const [from, to] = spanOf(label)
  const covered = others.filter(other => {
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

/** Numbers pushed apart until each can be read; where even that has no room, every other one stands a row higher. */
function numbersOnly(wanted: Wanted[], frame: { left: number; right: number }): Label[] {
  const room = (frame.right - frame.left) / Math.max(1, wanted.length)
  const crowded = room < LEAST_APART
  const xs = apartBy(
    crowded ? room : LEAST_APART,
    wanted.map(each => each.x),
    frame,
  )
  return wanted.map((each, place) => ({
    x: xs[place]!,
    level: crowded ? place % 2 : 0,
    side: 'left',
    lines: each.lines,
  }))
}

const LEAST_APART = 17

/** The same places, moved as little as needed so that neighbours are `least` apart and none leaves the frame. */
function apartBy(least: number, places: number[], frame: { left: number; right: number }): number[] {
  const moved = [...places]
  for (let pass = 0; pass < places.length; pass++) {
    for (let at = 1; at < moved.length; at++) {
      const missing = least - (moved[at]! - moved[at - 1]!)
      if (missing <= 0) continue
      moved[at - 1]! -= missing / 2
      moved[at]! += missing / 2
    }
  }
  const over = Math.max(0, (moved.at(-1) ?? 0) - frame.right)
  return moved.map(x => Math.max(frame.left, x - over))
}
