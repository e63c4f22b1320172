/** What other capabilities may use. */
export type {
  FirstChecks,
  NewOrUsed,
  OpenLook,
  PriorWork,
  PriorWorkPair,
  Season,
  SymptomToCheck,
  WhileOpen,
} from './contract.ts'
export { checkLines, checksInWords, standingCautions } from './rules/checks-in-words.ts'
export { askInWords, looksInWords } from './rules/looks-in-words.ts'
export type { ConfirmedComeback } from './service/confirmed-comebacks.ts'
export { firstChecksFor } from './service/first-checks.ts'
export { newOrUsedFor } from './service/new-or-used.ts'
export { oftenPairs } from './service/often-pairs.ts'
export { priorWorkPairs } from './service/prior-work.ts'
export { recurrence } from './service/recurrence.ts'
export { season } from './service/season.ts'
export { whileOpenFor } from './service/while-open.ts'
