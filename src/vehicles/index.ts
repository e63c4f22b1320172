/** What other capabilities may use. All of it is synchronous; those that take a `tx` write rows for the caller's own event. */
export type {
  Customer,
  CustomerErasure,
  CustomerInput,
  CustomerPatch,
  Keeper,
  NamedRecord,
  OdometerReading,
  OdometerReadingInput,
  Vehicle,
  VehicleInput,
  VehiclePatch,
  Warning,
} from './contract.ts'
export { odometerOddities } from './rules.ts'
export {
  createCustomer,
  customerById,
  customersByIds,
  eraseCustomerRecord,
  erasureOfCustomer,
  listCustomers,
  updateCustomer,
} from './service/customers.ts'
export { allFamilies, allVariants, ensureFamily, ensureVariant, familyOfName } from './service/names.ts'
export { odometerReadings, recordOdometer } from './service/odometer.ts'
export {
  createVehicle,
  createVehicleWithKeeper,
  ensureImportedVehicle,
  type FoundVehicle,
  findVehicles,
  keeperOf,
  keepersOfVehicle,
  requireVehicle,
  updateVehicle,
  vehicleById,
  vehiclesKeptBy,
} from './service/vehicles.ts'
