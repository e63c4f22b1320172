/** A promise on a job, as days since 1970-01-01 and kilometres driven from the hand-back. */
export interface WarrantyTerm {
  handedBackDay: number
  /** The last day of the promise by date. */
  untilDay: number
  /** The distance the promise lasts, or null when it has no such limit. */
  limitKm: number | null
  /** The vehicle's usage, or null when nothing is known of it. */
  kmPerDay: number | null
}

/**
 * The day on which a warranty ends: the earlier of its date and the day its distance limit is reached at the vehicle's
 * usage. A vehicle that does not move reaches no distance.
 *
 * @returns a whole day since 1970-01-01.
 * @throws RangeError when the date lies before the hand-back or the limit is below zero.
 */
export function warrantyEnd({ handedBackDay, untilDay, limitKm, kmPerDay }: WarrantyTerm): number {
  if (!(untilDay >= handedBackDay)) throw new RangeError('warrantyEnd requires a date on or after the hand-back')
  if (limitKm !== null && !(limitKm >= 0)) throw new RangeError('warrantyEnd requires a limit of zero or more')
  if (limitKm === null || kmPerDay === null || !(kmPerDay > 0)) return untilDay
  return Math.min(untilDay, handedBackDay + Math.floor(limitKm / kmPerDay))
}
