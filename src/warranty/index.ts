/** What other capabilities may use. */
export type { Backtest, BacktestQuery, ExposedOperation, WarrantyExposure } from './contract.ts'
export { warrantyBacktest } from './service/backtest.ts'
export { warrantyExposures } from './service/exposure.ts'
