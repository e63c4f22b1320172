import { curveStepAfter, line as pathOf } from 'd3-shape'

/** Points joined by steps, each height kept until the next point. */
export function stepPath(points: readonly (readonly [number, number])[]): string {
  return pathOf().curve(curveStepAfter).digits(1)(points.map(([x, y]) => [x, y])) ?? ''
}
