export * from './contract/follows.ts'
export * from './contract/new-or-used.ts'
export * from './contract/what-to-check.ts'
