/** What other capabilities may use. */
export type { ComebackRateGroup, Suspicion } from './contract.ts'
export { statedCost } from './rules/return-cost.ts'
export { comebackRates } from './service/comeback-rate.ts'
export { decideComeback } from './service/decisions.ts'
export { type FirstComeback, firstComebacks } from './service/first-comebacks.ts'
export { claimsDue } from './service/recoveries.ts'
export { costOfComeback, costOfStay } from './service/return-costs.ts'
export { openSuspicions, type SuspicionFlag, suspicionsFor, suspicionsOfStayToBe } from './service/suspicions.ts'
