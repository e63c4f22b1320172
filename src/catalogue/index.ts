/** What other capabilities may use. All of it is synchronous; those that take a `tx` write rows for the caller's own event. */
export type { AccessStep, Component, Operation, Procedure, ProcedureRevisionInput, Stage } from './contract.ts'
export { lookAtComponent } from './rules/look.ts'
export { orderOfPositions } from './rules/tightening.ts'
export {
  accessStepIds,
  allAccessSteps,
  createAccessStep,
  stepsWithAllNeeded,
  updateAccessStep,
} from './service/access-steps.ts'
export { allComponents, componentsByIds, createComponent } from './service/components.ts'
export { askForLook, asksForLook } from './service/looks-asked-for.ts'
export {
  allFailureModes,
  allSymptoms,
  componentNames,
  createSymptom,
  ensureComponent,
  ensureFailureMode,
  ensureOperation,
  ensureSymptom,
  failureModeNames,
  operationNames,
  requireComponent,
  requireFailureMode,
  requireOperation,
  requireSymptom,
  symptomNames,
} from './service/names.ts'
export {
  allOperations,
  createOperation,
  type OperationPlan,
  operationById,
  operationOfName,
  operationPlan,
  operationsByIds,
  updateOperation,
} from './service/operations.ts'
export {
  addProcedureRevision,
  allProcedures,
  createProcedure,
  latestRevision,
  procedureRevisions,
} from './service/procedures.ts'
