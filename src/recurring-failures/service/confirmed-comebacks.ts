import type { CalendarDate } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import type { PairNames } from './prior-work.ts'

/** A failure with which work came back, as a person confirmed it. */
export interface ConfirmedComeback extends PairNames {
  vehicle_id: string
  /** When the failure was found. */
  on: CalendarDate
  /** What failed, why, and why that was possible; empty where nobody said. */
  root_cause: string[]
  /** Null where an imported history says it. */
  decision_id: string | null
  /** Where whoever asks reads the decision. */
  href: string | null
}

/** Comebacks are decided by a later capability, so it tells them through this; left out, the day is today. */
export type ConfirmedComebacks = (ctx: Context, asOf: string | undefined) => ConfirmedComeback[]

/** Those of one pair: work of this name came back with this failure. */
export function ofPair(all: readonly ConfirmedComeback[], pair: PairNames): ConfirmedComeback[] {
  return all.filter(
    ({ operation, component, failure_mode }) =>
      operation === pair.operation && component === pair.component && failure_mode === pair.failure_mode,
  )
}

/** How many comebacks that are: one that was decided with several failures is one. */
export function comebackCount(comebacks: readonly ConfirmedComeback[]): number {
  return new Set(comebacks.map(({ decision_id, vehicle_id, on }) => decision_id ?? `${vehicle_id} ${on}`)).size
}
