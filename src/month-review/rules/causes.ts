/** A comeback or a loss, in its month (YYYY-MM) and with its cause; '' where none is named. */
export interface Caused {
  month: string
  category: string
  is_loss: boolean
}

export interface CauseCount {
  category: string
  in_month: number
  in_year: number
  losses_in_month: number
  losses_in_year: number
}

/** Counts by cause, for a month and for the twelve to its end; the most frequent first, as in a Pareto table, ties by name. */
export function causeCounts(caused: readonly Caused[], month: string): CauseCount[] {
  const counts = new Map<string, CauseCount>()
  for (const { category, is_loss, ...each } of caused) {
    const count = counts.get(category) ?? {
      ...{ category, in_month: 0, in_year: 0, losses_in_month: 0, losses_in_year: 0 },
    }
    counts.set(category, count)
    if (is_loss) count.losses_in_year += 1
    else count.in_year += 1
    if (each.month !== month) continue
    if (is_loss) count.losses_in_month += 1
    else count.in_month += 1
  }
  const all = (count: CauseCount) => count.in_year + count.losses_in_year
  return [...counts.values()].sort((one, other) => all(other) - all(one) || one.category.localeCompare(other.category))
}
