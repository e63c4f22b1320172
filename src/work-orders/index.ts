/**
 * What other capabilities may use. `…ById`, `…OfOrder` and the use cases speak as the wire does (ISO instants, no nulls);
 * `OrderPlan`, `jointById`, `lookById`, `finalCheckById`, `jobsOfVehicle` and `handBackOf` are rows (milliseconds, nulls).
 */
export type {
  Authorisation,
  Closing,
  ClosingInput,
  Estimate,
  EstimateLine,
  Job,
  Talk,
  Voiding,
  VoidingInput,
  WorkOrderInput,
  WorkOrderPatch,
  WorkOrderRecord,
} from './contract.ts'
export type { ChargedLine } from './rules/charges.ts'
export { isJobDone, stateOf } from './rules/standing.ts'
export { type WarrantyTerm, warrantyTerm } from './rules/warranty.ts'
export {
  authorisationsOfOrder,
  authoriseAmount,
  estimatesOfOrder,
  makeEstimate,
  talksOfOrder,
  writeTalk,
} from './service/agreement.ts'
export {
  bookLinesOfOrder,
  type ChargesOfOrder,
  chargesOfOrder,
  chargesOfPlan,
  labourOfPlan,
} from './service/charges.ts'
export { type HandBackRow, handBackOf, insertHandBack } from './service/hand-backs.ts'
export { type JobInHistory, jobsOfVehicle } from './service/history.ts'
export { addJob, completeJob, voidJob } from './service/jobs.ts'
export {
  emptyOrdersOfCustomer,
  openWorkOrder,
  ordersInHouse,
  updateWorkOrder,
  workOrderById,
  workOrderByNumber,
  workOrders,
  workOrdersOfCustomer,
  workOrdersOfVehicle,
} from './service/orders.ts'
export { addPartLine } from './service/part-lines.ts'
export {
  finalCheckById,
  jobById,
  jobsOfOrder,
  jointById,
  lookById,
  type OrderPlan,
  orderOfJob,
  type Place,
  type PlannedJob,
  planOfJob,
  planOfOrder,
  vehicleOfJob,
} from './service/plan.ts'
export { insertClosing, openStep, stepOfJob } from './service/steps.ts'
export { putToolIn, takeToolOut } from './service/tools.ts'
