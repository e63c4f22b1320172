export * from './contract/follows.ts'
export * from './contract/what-to-check.ts'
