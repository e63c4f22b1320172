/**
 * What other capabilities may use. `…ById`, `…OfOrder` and the use cases speak as the wire does (ISO instants, no nulls);
 * `OrderPlan`, `jointById`, `lookById`, `finalCheckById`, `jobsOfVehicle` and `handBackOf` are rows (milliseconds, nulls).
 */
export type {
  Authorisation,
  Closing,
  ClosingInput,
  EngineTurn,
  EngineTurnInput,
  Estimate,
  EstimateLine,
  Job,
  MovedPromise,
  OpeningInput,
  Talk,
  ToolIn,
  Voiding,
  VoidingInput,
  Wait,
  WorkOrderInput,
  WorkOrderPatch,
  WorkOrderRecord,
} from './contract.ts'
export type { ChargedLine } from './rules/charges.ts'
export { standingHandTurn } from './rules/engine.ts'
export { leftWithIt } from './rules/left-with-it.ts'
export { isBeforeWork } from './rules/marks.ts'
export { isDoneByWord, isJobDone, provesItself, stateOf } from './rules/standing.ts'
export { missingWords } from './rules/tool-count.ts'
export { outBefore, toolsAtJoint } from './rules/tools-inside.ts'
export { type WarrantyTerm, warrantyTerm } from './rules/warranty.ts'
export {
  authorisationsOfOrder,
  authoriseAmount,
  estimatesOfOrder,
  makeEstimate,
  talksOfOrder,
  withdrawAuthorisation,
  writeTalk,
} from './service/agreement.ts'
export { addPartBox, partBoxById, partBoxesOfOrder, placeOfBox, placePartBox } from './service/boxes.ts'
export {
  bookLinesOfOrder,
  type ChargesOfOrder,
  chargesOfOrder,
  chargesOfPlan,
  labourOfPlan,
} from './service/charges.ts'
export {
  clockById,
  forgottenClockOf,
  runningClockOf,
  startClock,
  stopClock,
  stopRunningClock,
} from './service/clocks.ts'
export { insertEngineTurn } from './service/engine-turns.ts'
export { type HandBackRow, handBackOf, insertHandBack } from './service/hand-backs.ts'
export { type JobInHistory, jobsOfVehicle } from './service/history.ts'
export { addJob, completeJob, voidJob } from './service/jobs.ts'
export { jointsByRevision, jointsOfVehicle } from './service/joints-made.ts'
export { makeMarkByPicture, markById, markMissing, marksMissingOnJoint, recordMark } from './service/marks.ts'
export type { OrderPlan, PlannedJob, ToolsOfPlan } from './service/order-plan.ts'
export {
  emptyOrdersOfCustomer,
  openWorkOrder,
  ordersInHouse,
  ordersInHouseOf,
  updateWorkOrder,
  workOrderById,
  workOrderByNumber,
  workOrderOfInvoice,
  workOrders,
  workOrdersOfCustomer,
  workOrdersOfVehicle,
} from './service/orders.ts'
export { addPartLine, lastPrices, removePartLine } from './service/part-lines.ts'
export {
  finalCheckById,
  jobById,
  jobsOfOrder,
  jointById,
  lookById,
  orderOfJob,
  type Place,
  planOfJob,
  planOfOrder,
  toolsStillIn,
  vehicleOfJob,
} from './service/plan.ts'
export { insertClosing, marksToMakeBefore, openStep, stepOfJob } from './service/steps.ts'
export { leaveToolOut, putToolIn, toolInById } from './service/tools.ts'
export { noteShortfall, takeToolOut } from './service/tools-out.ts'
export { addWait, endWait, movedPromisesOfOrder, waitById, waitsOfOrder } from './service/waits.ts'
