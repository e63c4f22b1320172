import { namesOfPeople } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { fromInstant } from '../../platform/wire.ts'
import { type Talk, talksOfOrder } from '../../work-orders/index.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'

/** What was said with the customer since a doubt came out. */
export interface Call {
  /** In milliseconds. */
  at: number
  /** Who of the workshop wrote it down; null when nobody with a name did. */
  by: string | null
  how: string
  said: string
}

/** The last talk on the work order of each doubt since that came out, by the id of the doubt: nobody needs to be called twice. */
export function callsSince(ctx: Context, doubts: readonly (Doubt | PartInDoubt)[]): Map<string, Call> {
  const names = namesOfPeople(ctx)
  const talks = new Map<string, Talk[]>()
  const calls = new Map<string, Call>()
  for (const { id, work_order_id, known_at } of doubts) {
    const own = talks.get(work_order_id) ?? talksOfOrder(ctx, work_order_id)
    talks.set(work_order_id, own)
    const last = own.at(-1)
    if (last === undefined || fromInstant(last.created_at) < fromInstant(known_at)) continue
    const { created_at, created_by, how, said } = last
    calls.set(id, { at: fromInstant(created_at), by: names.get(created_by ?? '') ?? null, how, said })
  }
  return calls
}
