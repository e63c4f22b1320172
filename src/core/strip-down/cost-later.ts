import { sumMinor, timesMinor } from '../money.ts'

/** What putting a component right takes: its part and own hours, and all the strip-down that doing it later takes again. */
export interface Remedy {
  part_minor: number
  own_hours: number
  access_hours: number
  /** An hour. */
  rate_minor: number
  /** The part of the strip-down again that we would bear, in basis points. */
  our_share_bp: number
}

/** In minor units: what it costs now, the strip-down again, and both. Each is rounded once, half away from zero. */
export function costLater({ part_minor, own_hours, access_hours, rate_minor, our_share_bp }: Remedy) {
  if ([part_minor, own_hours, access_hours, rate_minor, our_share_bp].some(amount => !(amount >= 0)))
    throw new RangeError('costLater requires times and prices of zero or more')
  const now_minor = sumMinor([part_minor, timesMinor(own_hours, rate_minor)])
  const again_minor = timesMinor(access_hours, rate_minor * our_share_bp, 10_000)
  return { now_minor, again_minor, later_minor: sumMinor([now_minor, again_minor]) }
}
