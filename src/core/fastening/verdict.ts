import normalCdf from '@stdlib/stats-base-dists-normal-cdf'

/** What was measured, its limits and the expanded uncertainty (k = 2) of the instrument there, all in one unit. */
export interface VerdictInput {
  lower: number
  upper: number
  value: number
  uncertainty: number | null
}

export interface MeasuredVerdict {
  verdict: 'conforms' | 'outside' | 'unsure'
  conformance_probability: number | null
}

/**
 * Verdict of a measured reading with the guard band w = U (JCGM 106:2012; ILAC-G8:09/2019, guarded acceptance): `conforms`
 * when T_L + w ≤ y ≤ T_U − w, `outside` when y < T_L − w or y > T_U + w, else `unsure`; the chance that it conforms is
 * Φ((T_U − y)/u) − Φ((T_L − y)/u) with u = U/2 (JCGM 106, 7.4). Without U: `unsure` inside the limits, `outside` beyond.
 * A reading that stands on an edge as decimals does so here, whatever binary arithmetic adds in the sixteenth digit.
 *
 * @throws RangeError when a number is not finite, the limits are crossed, or U is below zero.
 */
export function verdict(reading: VerdictInput): MeasuredVerdict {
  const { lower, upper, value, uncertainty } = reading
  if (![lower, upper, value].every(Number.isFinite)) throw new RangeError('verdict requires finite limits and value')
  if (lower > upper) throw new RangeError('verdict requires a lower limit not above the upper')
  if (uncertainty === null)
    return { verdict: value < lower || value > upper ? 'outside' : 'unsure', conformance_probability: null }
  if (!(uncertainty >= 0 && Number.isFinite(uncertainty)))
    throw new RangeError('verdict requires an uncertainty of zero or more')

  const dust = 1e-12 * Math.max(Math.abs(lower), Math.abs(upper), Math.abs(value), uncertainty)
  const conforms = value >= lower + uncertainty - dust && value <= upper - uncertainty + dust
  const outside = value < lower - uncertainty - dust || value > upper + uncertainty + dust
  const said = conforms ? 'conforms' : outside ? 'outside' : 'unsure'
  const u = uncertainty / 2
  if (u === 0) return { verdict: said, conformance_probability: conforms ? 1 : 0 }
  const chance = normalCdf((upper - value) / u, 0, 1) - normalCdf((lower - value) / u, 0, 1)
  return { verdict: said, conformance_probability: chance }
}
