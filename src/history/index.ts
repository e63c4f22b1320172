/** What other capabilities and the command line may use. */
export type { HistoryEvent } from './contract.ts'
export {
  type FaultOfFile,
  type HistoryFile,
  type ImportCounts,
  type ImportProgress,
  type ImportResult,
  importHistory,
} from './service/import-history.ts'
export { lifeOfVehicle } from './service/life-of-vehicle.ts'
export { type AsKnown, asKnown, eachVehicleLife, type LifeNumbers, lifeNumbers } from './service/lives.ts'
