import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { invalid, notFound } from '../../platform/problems.ts'
import { edited, newEditable, newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { CustomerInput, Keeper, Vehicle, VehicleInput, VehiclePatch, Warning } from '../contract.ts'
import { customerRow } from '../queries/customers.ts'
import { findVehicleIds, nearlyIds } from '../queries/find-index.ts'
import * as queries from '../queries/vehicles.ts'
import { findKey, vinOddities, wanted } from '../rules.ts'
import { createCustomer } from './customers.ts'
import { ensureFamily, ensureVariant, familyName } from './names.ts'

/** Desk or technician. An unknown family or variant is made. `warnings` of the answer stop nobody. */
export function createVehicle(ctx: Context, input: VehicleInput): Vehicle {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const row = { ...newEditable(ctx), ...columns(ctx, tx, input), imported_as: null }
    queries.insertVehicle(tx, { ...row, find_key: keyOf(row, input) })
    if (input.keeper_id !== undefined) addKeeper(ctx, tx, row.id, input.keeper_id)
    recordEvent(ctx, tx, { action: 'vehicle.created', table: 'vehicles', id: row.id })
    return vehicleById(ctx, row.id)
  })
}

/** Desk. A vehicle and the customer who keeps it, both new, in one go. */
export function createVehicleWithKeeper(ctx: Context, input: VehicleInput, keeper: CustomerInput): Vehicle {
  authorise(ctx, 'desk')
  return write(ctx, () => createVehicle(ctx, { ...input, keeper_id: createCustomer(ctx, keeper).id }))
}

/** Desk or technician. Another keeper adds a dated row; a keeper taken out adds one that names nobody. */
export function updateVehicle(ctx: Context, id: string, version: number, patch: VehiclePatch): Vehicle {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    const row = queries.knownVehicle(tx, id)
    if (row === undefined) throw notFound('vehicle', id)
    requireVersion(row.version, version)
    const input = mergePatch(toInput(row), patch)
    const changed = { ...queries.vehicleRow(tx, id)!, ...columns(ctx, tx, input), ...edited(ctx, row) }
    queries.updateVehicleRow(tx, { ...changed, find_key: keyOf(changed, input) })
    if ((input.keeper_id ?? null) !== row.keeper_id) addKeeper(ctx, tx, id, input.keeper_id ?? null)
    recordEvent(ctx, tx, { action: 'vehicle.edited', table: 'vehicles', id })
    return vehicleById(ctx, id)
  })
}

/**
 * The id of the vehicle that an imported history calls by this text; made when it is new. For use inside a write whose own
 * event then covers the row.
 */
export function ensureImportedVehicle(
  ctx: Context,
  tx: Tx,
  imported: { imported_as: string; family_id: string; first_registered_on: string | null },
): string {
  const known = queries.vehicleImportedAs(tx, imported.imported_as)
  if (known !== undefined) return known.id
  const names = { variant_id: null, plate: null, vin: null, frame_number: null, engine_number: null }
  const row = { ...newEditable(ctx), ...imported, ...names, odometer_unit: 'km' as const }
  queries.insertVehicle(tx, { ...row, find_key: findKey(imported.imported_as, familyName(tx, imported.family_id)) })
  return row.id
}

/** 404 when there is none. */
export function vehicleById(ctx: Context, id: string): Vehicle {
  const row = queries.knownVehicle(ctx.read, id)
  if (row === undefined) throw notFound('vehicle', id)
  return toWire(ctx, row)
}

/** For what hangs on a vehicle: 404 when there is none. */
export function requireVehicle(ctx: Context, id: string): void {
  if (queries.vehicleRow(ctx.read, id) === undefined) throw notFound('vehicle', id)
}

/** A vehicle as a list shows it: with the name and telephone of its keeper. */
export interface FoundVehicle extends Vehicle {
  /** What it is called: its registration, else another number, else how a history called it, else its family. */
  title: string
  keeper?: { id: string; name: string; phone?: string }
}

/**
 * The one box: registration, any part of a VIN, frame or engine number, the keeper's name or telephone, the text of an
 * imported history; case, accents, spaces and dashes do not matter. What is called just so comes first, then the newest.
 * An empty `q` finds all, newest first.
 */
export function findVehicles(ctx: Context, q: string, limit: number, skip = 0): FoundVehicle[] {
  return look(ctx, q, limit, skip).map(row => found(ctx, row))
}

/** Vehicles that bear one of these numbers already: blanks, dashes and case make no other. */
export function vehiclesOfNumbers(
  ctx: Context,
  numbers: { plate?: string | undefined; vin?: string | undefined; frame_number?: string | undefined },
): FoundVehicle[] {
  const rows = (['plate', 'vin', 'frame_number'] as const).flatMap(field => {
    const number = numbers[field]
    return number === undefined ? [] : (queries.vehicleWithNumber(ctx.read, field, number, '') ?? [])
  })
  return [...new Map(rows.map(row => [row.id, found(ctx, row)])).values()]
}

/** As `findVehicles`, without the keeper. */
export function listVehicles(ctx: Context, q: string, limit: number, skip: number): Vehicle[] {
  return look(ctx, q, limit, skip).map(row => toWire(ctx, row))
}

function look(ctx: Context, q: string, limit: number, skip: number): queries.KnownVehicle[] {
  if (q.trim() === '') return queries.newestVehicles(ctx.read, limit, skip)
  const looked = wanted(q)
  return looked === null ? [] : queries.knownVehicles(ctx.read, findVehicleIds(ctx.read, looked, limit, skip))
}

/** Those whose names or numbers, or whose keeper's, are `q` but for one typing error. */
export function nearlyVehicles(ctx: Context, q: string, limit: number): FoundVehicle[] {
  const looked = wanted(q)
  if (looked === null) return []
  return queries.knownVehicles(ctx.read, nearlyIds(ctx.read, 'vehicles', looked, limit)).map(row => found(ctx, row))
}

/** Those that a customer keeps now, newest first. */
export function vehiclesKeptBy(ctx: Context, customerId: string): FoundVehicle[] {
  return queries.vehiclesKeptBy(ctx.read, customerId).map(row => found(ctx, row))
}

/** Each time that a vehicle was theirs, the earliest first; without `until` it is so now. */
export function vehiclesEverKeptBy(
  ctx: Context,
  customerId: string,
): { vehicle: Vehicle; since: string; until?: string }[] {
  return queries.everKeptBy(ctx.read, customerId).map(({ vehicle_id, since, until }) => ({
    ...{ vehicle: vehicleById(ctx, vehicle_id), since: toInstant(since) },
    ...(until !== null && { until: toInstant(until) }),
  }))
}

/** Every change of keeper, newest first. 404 for an unknown vehicle. */
export function keepersOfVehicle(ctx: Context, vehicleId: string): Keeper[] {
  requireVehicle(ctx, vehicleId)
  return queries
    .keepersOf(ctx.read, vehicleId)
    .map(row => withoutNulls({ ...row, created_at: toInstant(row.created_at) }) as Keeper)
}

function addKeeper(ctx: Context, tx: Tx, vehicle_id: string, customer_id: string | null): void {
  queries.insertKeeper(tx, { ...newRecord(ctx), vehicle_id, customer_id })
}

function columns(ctx: Context, tx: Tx, input: VehicleInput) {
  if (input.keeper_id !== undefined && customerRow(tx, input.keeper_id) === undefined) {
    throw invalid({
      pointer: '/keeper_id',
      detail: `There is no customer with the id ${input.keeper_id}.`,
      code: 'unknown',
    })
  }
  return {
    family_id: ensureFamily(ctx, tx, input.family),
    variant_id: input.variant === undefined ? null : ensureVariant(ctx, tx, input.variant),
    plate: input.plate ?? null,
    vin: input.vin ?? null,
    frame_number: input.frame_number ?? null,
    engine_number: input.engine_number ?? null,
    odometer_unit: input.odometer_unit,
    first_registered_on: input.first_registered_on ?? null,
  }
}

function keyOf(row: { imported_as: string | null }, input: VehicleInput): string {
  return findKey(input.plate, input.vin, input.frame_number, input.engine_number, row.imported_as, input.family)
}

function toInput(row: queries.KnownVehicle): VehicleInput {
  const { family, variant, plate, vin, frame_number, engine_number, odometer_unit, first_registered_on, keeper_id } =
    row
  return withoutNulls({
    plate,
    family,
    variant,
    vin,
    frame_number,
    engine_number,
    odometer_unit,
    first_registered_on,
    keeper_id,
  })
}

function toWire(ctx: Context, row: queries.KnownVehicle): Vehicle {
  const { id, created_by, version, imported_as } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  const own = { id, created_at, created_by, updated_at, version, ...toInput(row) }
  return { ...own, ...(imported_as !== null && { imported_as }), warnings: warningsOf(ctx, row) }
}

function warningsOf(ctx: Context, row: queries.KnownVehicle): Warning[] {
  const twice = (['plate', 'vin', 'frame_number'] as const).flatMap(field => {
    const number = row[field]
    const other = number === null ? undefined : queries.vehicleWithNumber(ctx.read, field, number, row.id)
    if (other === undefined) return []
    return [
      { field, detail: `Another vehicle here has it too: ${titleOf(other)}, ${other.family}. Is it the same one?` },
    ]
  })
  return [...vinOddities('vin', row.vin), ...vinOddities('frame_number', row.frame_number), ...twice]
}

function found(ctx: Context, row: queries.KnownVehicle): FoundVehicle {
  const { keeper_id, keeper_name, keeper_phone } = row
  const vehicle = { ...toWire(ctx, row), title: titleOf(row) }
  if (keeper_id === null || keeper_name === null) return vehicle
  return {
    ...vehicle,
    keeper: { id: keeper_id, name: keeper_name, ...(keeper_phone !== null && { phone: keeper_phone }) },
  }
}

function titleOf(row: queries.KnownVehicle): string {
  return row.plate ?? row.vin ?? row.frame_number ?? row.engine_number ?? row.imported_as ?? row.family
}
