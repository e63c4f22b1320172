/** What other capabilities may use. */
export type { WorkOrder } from './contract.ts'
export { type Found, findInBox } from './service/find.ts'
export { flagsOf } from './service/flags.ts'
export { type Stay, stayOf, staysInHouse } from './service/in-house.ts'
export { takeIn } from './service/take-in.ts'
export { listWorkOrders, workOrderInFull } from './service/work-orders.ts'
