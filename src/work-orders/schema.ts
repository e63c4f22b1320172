/** The tables of work orders: the stay and its end, jobs with their plans, what was done on them, what was agreed. */
export * from './schema/agreement.ts'
export * from './schema/boxes.ts'
export * from './schema/doings.ts'
export * from './schema/jobs.ts'
export * from './schema/orders.ts'
export * from './schema/waits.ts'
