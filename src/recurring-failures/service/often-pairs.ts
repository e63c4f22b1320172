import { addDays, dayNumber } from '../../core/calendar.ts'
import { priorWork } from '../../core/statistics/recurrence/prior-work.ts'
import { asKnown, eachVehicleLife, lifeNumbers } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { kept } from '../../platform/workers/kept.ts'
import { importCount } from '../queries/pairs.ts'
import { MIN_EVENTS } from './prior-work.ts'

/** Ids of the components in whose failure a pair ends that is "often followed by", by the id of its operation. */
export type OftenPairs = ReadonlyMap<string, ReadonlySet<string>>

/**
 * The pairs that were known at the end of yesterday, on the clock of days, to the end of what is known. Worked out once a
 * day and after each import: whoever takes a vehicle in does not wait for it.
 */
export function oftenPairs(ctx: Context): OftenPairs {
  const yesterday = addDays(asKnown(ctx).asOf, -1)
  return kept(ctx.store, 'often-pairs', `${yesterday} ${importCount(ctx.read)}`, () => {
    const numbers = lifeNumbers(ctx)
    const lives = eachVehicleLife(ctx, numbers, asKnown(ctx, yesterday))
    const asOf = dayNumber(yesterday)
    const pairs = priorWork(lives, { clock: 'days', window: null, by: null, asOf, minEvents: MIN_EVENTS })
    const often = new Map<string, Set<string>>()
    for (const { operation, failure, says } of pairs) {
      if (says !== 'often') continue
      const { id } = numbers.operations[operation]!
      const components = often.get(id) ?? new Set<string>()
      often.set(id, components.add(numbers.component(failure).id))
    }
    return often
  })
}
