/** What other capabilities may use. */
export type { PriorWork, PriorWorkPair, PriorWorkQuery, Recurrence, RecurrenceQuery } from './contract.ts'
export { type OftenPairs, oftenPairs } from './service/often-pairs.ts'
export { priorWorkPairs } from './service/prior-work.ts'
export { recurrence } from './service/recurrence.ts'
