/** What other capabilities may use. All of it is synchronous; those that take a `tx` write rows for the caller's own event. */
export type {
  Customer,
  CustomerErasure,
  CustomerInput,
  Keeper,
  NamedRecord,
  OdometerReading,
  Vehicle,
  VehicleInput,
} from './contract.ts'
export {
  createCustomer,
  customerById,
  customersByIds,
  customersCalled,
  eraseCustomerRecord,
  erasureOfCustomer,
  listCustomers,
  nearlyCustomers,
} from './service/customers.ts'
export { allFamilies, allVariants, ensureFamily, familyOfName, variantOfName } from './service/names.ts'
export { oddOfReading, odometerReadings, readingsOfVehicle, recordOdometer } from './service/odometer.ts'
export {
  createVehicle,
  ensureImportedVehicle,
  type FoundVehicle,
  findVehicles,
  keepersOfVehicle,
  nearlyVehicles,
  requireVehicle,
  updateVehicle,
  vehicleById,
  vehiclesEverKeptBy,
  vehiclesOfNumbers,
} from './service/vehicles.ts'
