/** What other capabilities may use. */
export type { ExposedOperation, WarrantyExposure } from './contract.ts'
export { warrantyBacktest } from './service/backtest.ts'
export { warrantyExposures } from './service/exposure.ts'
export { promises } from './service/promises.ts'
