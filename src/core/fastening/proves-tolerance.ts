/**
 * Whether an instrument of expanded uncertainty U can prove a tolerance: U is at most half of its width. Then a setting
 * counts as done, and a measured reading has a band left in which it conforms (the guard bands take U on either side).
 * An unknown U proves nothing.
 */
export function provesTolerance(lower: number, upper: number, uncertainty: number | null): boolean {
  const dust = 1e-12 * Math.max(Math.abs(lower), Math.abs(upper))
  return uncertainty !== null && uncertainty <= (upper - lower) / 2 + dust
}
