export * from './contract/corrective-action.ts'
export * from './contract/decision.ts'
export * from './contract/rate.ts'
export * from './contract/recovery.ts'
