import { z } from 'zod'
import { PriorWorkQuery } from '../contract.ts'

/** A year, or what many vehicles are driven in one. */
const USUAL_WINDOW = { days: 365, distance: 20_000 } as const

/**
 * What the pages are asked. They count failures within a year of the work unless somebody takes that window away: without
 * one, time after work is time late in a life, and whatever comes with age seems to follow whatever was done before.
 */
export const PairsQuery = PriorWorkQuery.extend({
  window: PriorWorkQuery.shape.window.unwrap().optional().meta({
    title: 'Within',
    description: 'Days, or km. Left out: 365 days, or 20 000 km.',
    classes: 'short',
  }),
  any_time: z.boolean().optional().meta({ title: 'At any time after it, however long' }),
})
export type PairsQuery = z.infer<typeof PairsQuery>

/** The question as the analysis takes it. */
export function analysisOf({ any_time, ...query }: PairsQuery): PriorWorkQuery {
  if (any_time === true) return { ...query, window: undefined }
  return { ...query, window: query.window ?? USUAL_WINDOW[query.clock ?? 'days'] }
}
