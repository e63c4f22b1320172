import { and, asc, desc, eq, getTableColumns, sql } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { customers, families, keepers, odometer_readings, variants, vehicles } from '../schema.ts'

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
const WHOLE_KEY = sql`(${vehicles.find_key} || coalesce(${customers.find_key}, ''))`

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

export function insertVehicle(tx: Tx, row: VehicleRow): void {
  tx.insert(vehicles).values(row).run()
}

export function updateVehicleRow(tx: Tx, row: VehicleRow): void {
  tx.update(vehicles).set(row).where(eq(vehicles.id, row.id)).run()
}

export function vehicleRow(read: Read, id: string): VehicleRow | undefined {
  return read.select().from(vehicles).where(eq(vehicles.id, id)).get()
}

export function knownVehicle(read: Read, id: string): KnownVehicle | undefined {
  return known(read).where(eq(vehicles.id, id)).get()
}

export function vehicleImportedAs(read: Read, name: string): VehicleRow | undefined {
  return read.select().from(vehicles).where(eq(vehicles.imported_as, name)).get()
}

/** The others of which something is called just this, folded. */
export function vehiclesCalled(read: Read, folded: string, exceptId: string): KnownVehicle[] {
  return known(read)
    .where(and(sql`${vehicles.find_key} like ${`% ${folded} %`}`, sql`${vehicles.id} <> ${exceptId}`))
    .limit(5)
    .all()
}

export interface Looked {
  /** Null: everything. */
  for: { whole: string; words: string[] } | null
  limit: number
  skip: number
}

/** Those called just so come first, then the newest. The key of a vehicle and that of its keeper are searched as one. */
export function lookForVehicles(read: Read, looked: Looked): KnownVehicle[] {
  const { for: wanted } = looked
  const found = wanted === null ? undefined : anyMatch(wanted.whole, wanted.words)
  const justSoFirst = wanted === null ? [] : [asc(sql`${WHOLE_KEY} not like ${`% ${wanted.whole} %`}`)]
  return known(read)
    .where(found)
    .orderBy(...justSoFirst, desc(vehicles.id))
    .limit(looked.limit)
    .offset(looked.skip)
    .all()
}

function anyMatch(whole: string, words: string[]) {
  const all = words.map(word => sql`${WHOLE_KEY} like ${`%${word}%`}`)
  return sql`(${WHOLE_KEY} like ${`%${whole}%`} or (${sql.join(all, sql` and `)}))`
}

/** Of one customer, newest first. */
export function vehiclesKeptBy(read: Read, customerId: string): KnownVehicle[] {
  return known(read).where(eq(keepers.customer_id, customerId)).orderBy(desc(vehicles.id)).all()
}

export function insertKeeper(tx: Tx, row: KeeperRow): void {
  tx.insert(keepers).values(row).run()
}

/** Newest first. */
export function keepersOf(read: Read, vehicleId: string): KeeperRow[] {
  return read.select().from(keepers).where(eq(keepers.vehicle_id, vehicleId)).orderBy(desc(keepers.id)).all()
}

export function insertReading(tx: Tx, row: ReadingRow): void {
  tx.insert(odometer_readings).values(row).run()
}

/** Oldest day first; of one day in the order in which they were written. */
export function readingsOf(read: Read, vehicleId: string): ReadingRow[] {
  return read
    .select()
    .from(odometer_readings)
    .where(eq(odometer_readings.vehicle_id, vehicleId))
    .orderBy(asc(odometer_readings.on), asc(odometer_readings.id))
    .all()
}
