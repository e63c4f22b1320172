import { curveCatmullRomClosed, line } from 'd3-shape'

const MOST_KEPT = 2000
/** The same joint is drawn after each tap. */
const painted = new Map<string, string>()

/**
 * The witness mark: a stripe painted by hand across a head and the joint, from the lower left to the upper right. `seed`
 * makes no two alike and each always the same.
 * @param x centre of the head, in drawing units
 * @param y the same, downwards
 * @param radius of the head
 * @param reach half the stripe, in radii: it must be seen on the joint beyond the head
 * @returns path data, to a tenth
 */
export function paintedStripe(x: number, y: number, radius: number, reach: number, seed: number): string {
  const key = `${x} ${y} ${radius} ${reach} ${seed}`
  const known = painted.get(key)
  if (known !== undefined) return known
  const stripe = paint(x, y, radius, reach, seed)
  if (painted.size === MOST_KEPT) painted.clear()
  painted.set(key, stripe)
  return stripe
}

function paint(x: number, y: number, radius: number, reach: number, seed: number): string {
  const unsteady = unsteadiness(seed)
  const edge = (side: 1 | -1): [number, number][] =>
    Array.from({ length: STEPS + 1 }, (_, step) => {
      const along = (step / STEPS) * 2 - 1
      const away = along * radius * reach
      const thickness = radius * (HALF_WIDTH - 0.02 * along) * (Math.abs(along) === 1 ? 0.72 : 1)
      const off = side * (thickness + unsteady() * radius * 0.02)
      return [x + away * LEAN.x + off * LEAN.y, y - away * LEAN.y + off * LEAN.x]
    })
  const outline = [...edge(-1), ...edge(1).reverse()]
  return line().curve(curveCatmullRomClosed).digits(1)(outline) ?? ''
}

const STEPS = 9
/** Half its breadth, in radii. */
const HALF_WIDTH = 0.17
const ANGLE = (69 * Math.PI) / 180
const LEAN = { x: Math.cos(ANGLE), y: Math.sin(ANGLE) }

/** A shaking hand: numbers between -1 and 1 that depend on the seed alone. */
function unsteadiness(seed: number): () => number {
  let state = (seed + 1) * 12.9898
  return () => {
    state += 78.233
    const wild = Math.sin(state) * 43758.5453
    return (wild - Math.floor(wild)) * 2 - 1
  }
}
