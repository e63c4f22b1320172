import { quantileType7 } from './quantile-type7.ts'

/**
 * The median of the slopes between all pairs of points: a rate that one mistyped reading does not move.
 *
 * Source: Theil (1950) Indagationes Mathematicae 12; Sen (1968) JASA 63:1379-1389.
 *
 * @param points pairs with the same x give no slope.
 * @returns y per x; null when no two points differ in x.
 * @throws RangeError for a coordinate that is no finite number.
 */
export function theilSen(points: readonly { x: number; y: number }[]): number | null {
  const slopes: number[] = []
  points.forEach((point, i) => {
    if (!Number.isFinite(point.x + point.y)) throw new RangeError('theilSen requires finite points')
    for (let j = 0; j < i; j++) {
      const run = point.x - points[j]!.x
      if (run !== 0) slopes.push((point.y - points[j]!.y) / run)
    }
  })
  return slopes.length === 0 ? null : quantileType7(Float64Array.from(slopes).sort(), 0.5)
}
