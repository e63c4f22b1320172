/** What other capabilities may use. */
export type { WorkOrder } from './contract.ts'
export { type Stay, staysInHouse } from './service/in-house.ts'
export { takeIn } from './service/take-in.ts'
export { workOrderInFull } from './service/work-orders.ts'
