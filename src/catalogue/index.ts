/** What other capabilities may use. All of it is synchronous; those that take a `tx` write rows for the caller's own event. */
export type {
  AccessStep,
  AccessStepInput,
  Component,
  ComponentInput,
  Operation,
  OperationInput,
  Procedure,
  ProcedureRevision,
  ProcedureRevisionInput,
  Stage,
} from './contract.ts'
export { orderOfPositions, withAllNeeded } from './rules.ts'
export {
  type AccessStepIds,
  accessStepById,
  accessStepIds,
  accessStepsByIds,
  allAccessSteps,
  createAccessStep,
  stepsWithAllNeeded,
  updateAccessStep,
} from './service/access-steps.ts'
export {
  allComponents,
  componentById,
  componentOfName,
  componentsByIds,
  createComponent,
  updateComponent,
} from './service/components.ts'
export {
  accessStepNames,
  allFailureModes,
  allSymptoms,
  componentNames,
  createFailureMode,
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
  procedureById,
  procedureRevisionById,
  procedureRevisions,
  procedureRevisionsByIds,
} from './service/procedures.ts'
