import { and, asc, desc, eq, getTableColumns, ne, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../../platform/database/hot.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { customers, families, keepers, odometer_readings, sameNumber, variants, vehicles } from '../schema.ts'

export type VehicleRow = typeof vehicles.$inferSelect
export type KeeperRow = typeof keepers.$inferSelect
export type ReadingRow = typeof odometer_readings.$inferSelect

/** A vehicle with the names it is known by and who keeps it now. */
export interface KnownVehicle extends VehicleRow {
  family: string
  variant: string | null
  keeper_id: string | null
  keeper_name: string | null
  keeper_phone: string | null
}

/** Ids rise with time, so the greatest id of a vehicle's changes of keeper is the newest. */
const NEWEST_KEEPER = sql`(select max(k.id) from keepers k where k.vehicle_id = ${vehicles.id})`

function known(read: Read) {
  return read
    .select({
      ...getTableColumns(vehicles),
      family: families.name,
      variant: variants.name,
      keeper_id: keepers.customer_id,
      keeper_name: customers.name,
      keeper_phone: customers.phone,
    })
    .from(vehicles)
    .innerJoin(families, eq(families.id, vehicles.family_id))
    .leftJoin(variants, eq(variants.id, vehicles.variant_id))
    .leftJoin(keepers, eq(keepers.id, NEWEST_KEEPER))
    .leftJoin(customers, eq(customers.id, keepers.customer_id))
}

export const insertVehicle = hotInsert(vehicles)

export function updateVehicleRow(tx: Tx, row: VehicleRow): void {
  tx.update(vehicles).set(row).where(eq(vehicles.id, row.id)).run()
}

const vehicleOfId = hot((read: Read) =>
  read
    .select()
    .from(vehicles)
    .where(eq(vehicles.id, sql.placeholder('id')))
    .prepare(),
)

export function vehicleRow(read: Read, id: string): VehicleRow | undefined {
  return vehicleOfId(read).get({ id })
}

const knownOfId = hot((read: Read) =>
  known(read)
    .where(eq(vehicles.id, sql.placeholder('id')))
    .prepare(),
)

export function knownVehicle(read: Read, id: string): KnownVehicle | undefined {
  return knownOfId(read).get({ id })
}

const importedAs = hot((read: Read) =>
  read
    .select()
    .from(vehicles)
    .where(eq(vehicles.imported_as, sql.placeholder('name')))
    .prepare(),
)

export function vehicleImportedAs(read: Read, name: string): VehicleRow | undefined {
  return importedAs(read).get({ name })
}

/** What may not stand on two vehicles. */
export type NumberField = 'plate' | 'vin' | 'frame_number'

function otherWith(field: NumberField) {
  const isSame = sql`${sameNumber(vehicles[field])} = ${sameNumber(sql`${sql.placeholder('number')}`)}`
  return hot((read: Read) =>
    known(read)
      .where(and(isSame, ne(vehicles.id, sql.placeholder('exceptId'))))
      .prepare(),
  )
}

const OTHER_WITH = { plate: otherWith('plate'), vin: otherWith('vin'), frame_number: otherWith('frame_number') }

/** Another vehicle with that number: blanks, dashes and case make no other. */
export function vehicleWithNumber(
  read: Read,
  field: NumberField,
  number: string,
  exceptId: string,
): KnownVehicle | undefined {
  return OTHER_WITH[field](read).get({ number, exceptId })
}

/** Newest first. */
export function newestVehicles(read: Read, limit: number, skip: number): KnownVehicle[] {
  return known(read).orderBy(desc(vehicles.id)).limit(limit).offset(skip).all()
}

const knownOfIds = hot((read: Read) => known(read).where(isAmong(vehicles.id, 'ids')).prepare())

/** In the order of their ids; an id that names nothing is not among them. */
export function knownVehicles(read: Read, ids: readonly string[]): KnownVehicle[] {
  const rows = new Map(
    knownOfIds(read)
      .all({ ids: idList(ids) })
      .map(row => [row.id, row]),
  )
  return ids.flatMap(id => rows.get(id) ?? [])
}

/** Of one customer, newest first. */
export function vehiclesKeptBy(read: Read, customerId: string): KnownVehicle[] {
  return known(read).where(eq(keepers.customer_id, customerId)).orderBy(desc(vehicles.id)).all()
}

export interface Kept {
  vehicle_id: string
  since: number
  /** NULL: it is theirs now. */
  until: number | null
}

const everKept = hot((read: Read) =>
  read
    .select({
      vehicle_id: keepers.vehicle_id,
      since: keepers.created_at,
      // drizzle leaves the table out of a column's name here, and inside the query it would be that of `n`
      until: sql<number | null>`(
        select min(n.created_at) from keepers n where n.vehicle_id = keepers.vehicle_id and n.id > keepers.id)`,
    })
    .from(keepers)
    .where(eq(keepers.customer_id, sql.placeholder('customerId')))
    .orderBy(asc(keepers.id))
    .prepare(),
)

/** Each time that a vehicle was this customer's, the earliest first. */
export function everKeptBy(read: Read, customerId: string): Kept[] {
  return everKept(read).all({ customerId })
}

export const insertKeeper = hotInsert(keepers)

const keepersOfVehicle = hot((read: Read) =>
  read
    .select()
    .from(keepers)
    .where(eq(keepers.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(desc(keepers.id))
    .prepare(),
)

/** Newest first. */
export function keepersOf(read: Read, vehicleId: string): KeeperRow[] {
  return keepersOfVehicle(read).all({ vehicleId })
}

export const insertReading = hotInsert(odometer_readings)

const readingsOfVehicle = hot((read: Read) =>
  read
    .select()
    .from(odometer_readings)
    .where(eq(odometer_readings.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(asc(odometer_readings.on), asc(odometer_readings.id))
    .prepare(),
)

/** A reading that an imported history tells: the day and the distance of any of its rows. */
export interface ToldReading {
  on: string
  distance_km: number
  display_replaced: boolean
}

const toldReadings = hot((read: Read) =>
  read
    .select({ on: sql<string>`date`, distance_km: sql<number>`distance_km` })
    .from(sql`life_events`)
    .where(
      sql`vehicle_id = ${sql.placeholder('vehicleId')} and source = 'history_events'
        and date is not null and distance_km is not null`,
    )
    .prepare(),
)

/** Of work, failures and sightings alike: no row of it is an odometer reading of our own. */
export function toldReadingsOf(read: Read, vehicleId: string): ToldReading[] {
  return toldReadings(read)
    .all({ vehicleId })
    .map(row => ({ ...row, display_replaced: false }))
}

/** Oldest day first; of one day in the order in which they were written. */
export function readingsOf(read: Read, vehicleId: string): ReadingRow[] {
  return readingsOfVehicle(read).all({ vehicleId })
}
