/** What other capabilities may use. */
export type { FirstChecks, OpenLook, PriorWork, PriorWorkPair, Season, WhileOpen } from './contract.ts'
export { firstChecksFor } from './service/first-checks.ts'
export { oftenPairs } from './service/often-pairs.ts'
export { priorWorkPairs } from './service/prior-work.ts'
export { recurrence } from './service/recurrence.ts'
export { season } from './service/season.ts'
export { whileOpenFor } from './service/while-open.ts'
