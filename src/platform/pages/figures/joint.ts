export interface FastenerView {
  /** In tightening order, from 1. */
  number: number
  x_mm: number
  y_mm: number
  /** How many stages conform, or count as done as set: one short bar each. */
  bars: number
  /** The stage it stands at, from 1: the one to be done, or the one that went wrong. */
  at_stage: number
  /** `old`: done, but with a fastener that is there only to move the vehicle. */
  state: 'waiting' | 'next' | 'complete' | 'redo' | 'unsure' | 'old'
  /** What went wrong with one to be done again or unsure: "broke"; left out, that it went outside its limits. */
  fault?: string
  /** Where tapping it leads; null on paper and on a finished record. */
  href: string | null
}

export interface JointInput {
  /** Unique on the page. */
  id: string
  title: string
  /** 'bolt', 'screw', 'nut'. */
  word: string
  stages: number
  fasteners: FastenerView[]
  /** Only the layout is known: the places are drawn evenly, and no scale stands beside them. */
  unscaled?: boolean
  /** A hole in the middle, its diameter: there the order path is hidden, and the scale stands. */
  bore_mm?: number
  /** The mark by which the positions are found again: a peg, a keyway. */
  datum?: { x_mm: number; y_mm: number; label: string }
  /** What lies to the right of the drawing ('front of engine'); for joints that could be taken for their mirror image. */
  faces?: string
}

/** How one drawing of a joint is laid out, in its own units. */
export interface JointFormat {
  suffix: string
  classes: string
  /** Radius of a head. */
  head: number
  /** Width to fill. */
  aim: number
  margin: number
  /** Between the rims of the nearest two heads, at the least. */
  gap: number
  /** How many times taller than wide it may grow. */
  tallest: number
  /** The nearest two are not drawn further apart than this, so that an upright drawing does not grow too tall. */
  roomiest: number
  /** Turned a quarter clockwise. */
  turned: boolean
  /** Class of its words: larger where the drawing will be shrunk. */
  words: string
}
