export type { Calibration, Wrench } from './contract.ts'
export { troubleInWords } from './rules.ts'
export {
  type RegisteredWrench,
  type WrenchesForTarget,
  wrenchesForTarget,
  wrenchFacts,
  wrenchState,
} from './service/state.ts'
export {
  allWrenches,
  calibrationsOfWrench,
  recordCalibration,
  registerWrench,
  withdrawalsOfWrench,
  withdrawWrench,
  wrenchById,
} from './service/wrenches.ts'
