/** Where on a circle weights point together, and how strongly: 0 in all directions, 1 in one. */
export interface MeanDirection {
  /** In degrees from 0 to below 360; null when the weights cancel out or there are none. */
  mean_direction_deg: number | null
  resultant_length: number
}

/** A resultant shorter than this is what rounding leaves of directions that cancel out. */
const ROUNDING = 1e-12

/**
 * The mean direction and the mean resultant length of weighted directions.
 *
 * Source: Mardia & Jupp (2000) Directional Statistics, section 2.2; Zar (2010) Biostatistical Analysis, chapter 26.
 *
 * @param degrees directions.
 * @param weights of zero or more, one a direction.
 * @throws RangeError for lists of different length and for weights below zero.
 * @example meanDirection([0, 90], [1, 1]).mean_direction_deg // 45
 */
export function meanDirection(degrees: readonly number[], weights: readonly number[]): MeanDirection {
  if (degrees.length !== weights.length) throw new RangeError('meanDirection requires one weight a direction')
  let [x, y, total] = [0, 0, 0]
  degrees.forEach((degree, i) => {
    const weight = weights[i]!
    if (!(weight >= 0 && Number.isFinite(degree)))
      throw new RangeError('meanDirection requires weights of zero or more')
    x += weight * Math.cos((degree * Math.PI) / 180)
    y += weight * Math.sin((degree * Math.PI) / 180)
    total += weight
  })
  const length = total === 0 ? 0 : Math.hypot(x, y) / total
  if (length < ROUNDING) return { mean_direction_deg: null, resultant_length: 0 }
  const direction = (Math.atan2(y, x) * 180) / Math.PI
  return {
    mean_direction_deg: direction < 0 ? (direction + 360) % 360 : direction,
    resultant_length: Math.min(1, length),
  }
}
