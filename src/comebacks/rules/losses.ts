import { sumDecimals } from '../../core/decimal.ts'
import { timesMinor } from '../../core/money.ts'

/** A strip-down step that was opened again at our cost; `at` in milliseconds. */
export interface OpenedAgain {
  id: string
  work_order_id: string
  step: string
  hours: number
  reason: string | null
  at: number
}

/** Work done twice before the vehicle ever left. Its id is that of its first opening. */
export interface Loss {
  id: string
  work_order_id: string
  reason: string | null
  at: number
  steps: string[]
  hours: number
  labour_minor: number
}

/**
 * What was opened again at our cost, by order and reason: steps that one mistake opened again are one loss. Cost = hours of
 * the steps × cost rate; the parts stand on the order. A loss is no comeback: nobody came back.
 *
 * @param openings in the order in which they were written down.
 * @param costRateMinor minor units for an hour.
 */
export function losses(openings: readonly OpenedAgain[], costRateMinor: number): Loss[] {
  const groups = new Map<string, OpenedAgain[]>()
  for (const opening of openings) {
    const key = JSON.stringify([opening.work_order_id, opening.reason?.trim().toLowerCase() ?? null])
    groups.set(key, [...(groups.get(key) ?? []), opening])
  }
  return [...groups.values()].map(group => {
    const { id, work_order_id, reason, at } = group[0]!
    const hours = sumDecimals(group.map(opening => opening.hours))
    return {
      ...{ id, work_order_id, reason, at, hours },
      steps: group.map(opening => opening.step),
      labour_minor: timesMinor(hours, costRateMinor),
    }
  })
}
