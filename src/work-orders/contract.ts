/** What goes over the wire of work orders: the order itself, its jobs, and what was agreed with the customer. */
export * from './contract/agreement.ts'
export * from './contract/bench.ts'
export * from './contract/bounds.ts'
export * from './contract/boxes.ts'
export * from './contract/job.ts'
export * from './contract/order.ts'
export * from './contract/waits.ts'
