/** What other capabilities may use. */
export type { ComebackRateGroup, Loss, Suspicion } from './contract.ts'
export { claimInWords, costInWords } from './rules/cost-in-words.ts'
export { isFree, statedCost } from './rules/return-cost.ts'
export { correctiveActionsThen } from './service/actions.ts'
export { comebackRates } from './service/comeback-rate.ts'
export { confirmedFailures } from './service/confirmed-failures.ts'
export { decideComeback } from './service/decisions.ts'
export { type FirstComeback, firstComebacks } from './service/first-comebacks.ts'
export { lossesKnown } from './service/losses.ts'
export { claimsDue } from './service/recoveries.ts'
export { costOfComeback, costOfStay } from './service/return-costs.ts'
export { comebacksOfStay, notTheCustomers, type StayComebacks } from './service/stay-comebacks.ts'
export {
  openSuspicions,
  readableAt,
  type SuspicionFlag,
  suspicionsFor,
  suspicionsOfStayToBe,
} from './service/suspicions.ts'
export { decidedOfVehicle, type ToldDecision } from './service/told.ts'
