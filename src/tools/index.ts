export type { Adapter, Calibration, Gauge, Wrench } from './contract.ts'
export { GAUGE_KIND_WORDS, troubleInWords } from './rules/words.ts'
export {
  type AdapterFacts,
  adapterById,
  adapterFacts,
  allAdapters,
  registerAdapter,
} from './service/adapters.ts'
export { sayDoubtedSince } from './service/doubted-since.ts'
export {
  checksOfGauge,
  type GaugesForAngle,
  gaugeById,
  gaugeFacts,
  gaugesForAngle,
  recordGaugeCheck,
  registerGauge,
} from './service/gauges.ts'
export {
  calibrationRule,
  type RegisteredWrench,
  type WrenchesForTarget,
  wrenchesForTarget,
  wrenchFacts,
  wrenchState,
} from './service/state.ts'
export type { DoubtCount, MonthOfUse, ToolUse } from './service/use.ts'
export {
  calibrationsOfWrench,
  recordCalibration,
  withdrawalsOfWrench,
  withdrawWrench,
} from './service/wrench-records.ts'
export { allWrenches, registerWrench, wrenchById } from './service/wrenches.ts'
