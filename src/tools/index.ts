export type { Calibration, CalibrationInput, Withdrawal, WithdrawalInput, Wrench, WrenchInput } from './contract.ts'
export { troubleInWords } from './rules.ts'
export {
  type CyclesSince,
  type RegisteredWrench,
  type WrenchesForTarget,
  type WrenchState,
  wrenchesForTarget,
  wrenchFacts,
  wrenchState,
} from './service/state.ts'
export {
  allWrenches,
  calibrationsOfWrench,
  recordCalibration,
  registerWrench,
  updateWrench,
  withdrawalsOfWrench,
  withdrawWrench,
  wrenchById,
} from './service/wrenches.ts'
