import { nameKey } from '../core/name-key.ts'
import { authorise, type Context } from '../platform/context.ts'
import { recordEvent } from '../platform/database/events.ts'
import type { Read } from '../platform/database/types.ts'
import { write } from '../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../platform/edits.ts'
import { notFound, problem } from '../platform/problems.ts'
import { edited, newEditable } from '../platform/records.ts'
import { toInstant } from '../platform/wire.ts'
import type { Part, PartInput, PartPatch, Supplier, SupplierInput, SupplierPatch } from './contract.ts'
import * as queries from './queries.ts'

/** Desk. Part numbers are unique, whatever their case. */
export function createPart(ctx: Context, input: PartInput): Part {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    refuseTakenNumber(tx, input.number)
    const row = { ...newEditable(ctx), ...input, single_use: input.single_use ?? false }
    queries.insertPart(tx, row)
    recordEvent(ctx, tx, { action: 'part.created', table: 'parts', id: row.id })
    return toWire(row)
  })
}

/** Desk. 412 when the record has moved on from `version`. */
export function updatePart(ctx: Context, id: string, version: number, patch: PartPatch): Part {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const row = requirePart(tx, id)
    requireVersion(row.version, version)
    const { number, name, single_use = false } = mergePatch<PartInput>(row, patch)
    refuseTakenNumber(tx, number, id)
    const changed = { ...row, number, name, single_use, ...edited(ctx, row) }
    queries.updatePartRow(tx, changed)
    recordEvent(ctx, tx, { action: 'part.edited', table: 'parts', id })
    return toWire(changed)
  })
}

/** 404 when there is none. */
export function partById(ctx: Context, id: string): Part {
  return toWire(requirePart(ctx.read, id))
}

/** By name. */
export function allParts(ctx: Context): Part[] {
  return queries.allPartRows(ctx.read).map(toWire)
}

/** Newest first, after the id that the page before ended with. */
export function partsPage(ctx: Context, limit: number, after: string | null): Part[] {
  return queries.partRows(ctx.read, limit, after).map(toWire)
}

/** Desk. Names are unique, whatever their case. */
export function createSupplier(ctx: Context, input: SupplierInput): Supplier {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    refuseTakenSupplier(tx, input.name)
    const row = { ...newEditable(ctx), name: input.name }
    queries.insertSupplier(tx, row)
    recordEvent(ctx, tx, { action: 'supplier.created', table: 'suppliers', id: row.id })
    return toWire(row)
  })
}

/** Desk. 412 when the record has moved on from `version`. */
export function updateSupplier(ctx: Context, id: string, version: number, patch: SupplierPatch): Supplier {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const row = requireSupplier(tx, id)
    requireVersion(row.version, version)
    const changed = { ...row, name: patch.name ?? row.name, ...edited(ctx, row) }
    refuseTakenSupplier(tx, changed.name, id)
    queries.updateSupplierRow(tx, changed)
    recordEvent(ctx, tx, { action: 'supplier.edited', table: 'suppliers', id })
    return toWire(changed)
  })
}

/** 404 when there is none. */
export function supplierById(ctx: Context, id: string): Supplier {
  return toWire(requireSupplier(ctx.read, id))
}

/** By name. */
export function allSuppliers(ctx: Context): Supplier[] {
  return queries.allSupplierRows(ctx.read).map(toWire)
}

/** Newest first, after the id that the page before ended with. */
export function suppliersPage(ctx: Context, limit: number, after: string | null): Supplier[] {
  return queries.supplierRows(ctx.read, limit, after).map(toWire)
}

function requirePart(read: Read, id: string): queries.PartRow {
  const row = queries.partRow(read, id)
  if (row === undefined) throw notFound('part', id)
  return row
}

function requireSupplier(read: Read, id: string): queries.SupplierRow {
  const row = queries.supplierRow(read, id)
  if (row === undefined) throw notFound('supplier', id)
  return row
}

function refuseTakenNumber(read: Read, number: string, ownId?: string): void {
  const other = queries.allPartRows(read).find(part => part.id !== ownId && nameKey(part.number) === nameKey(number))
  if (other !== undefined) throw taken('number', `The part number “${number}” is taken by ${other.name}.`)
}

function refuseTakenSupplier(read: Read, name: string, ownId?: string): void {
  const other = queries.allSupplierRows(read).find(each => each.id !== ownId && nameKey(each.name) === nameKey(name))
  if (other !== undefined) throw taken('name', `There is a supplier called “${other.name}” already.`)
}

function taken(field: string, detail: string) {
  return problem('name-taken', { detail, errors: [{ pointer: `/${field}`, detail, code: 'taken' }] })
}

function toWire<Row extends { created_at: number; updated_at: number }>(row: Row) {
  return { ...row, created_at: toInstant(row.created_at), updated_at: toInstant(row.updated_at) }
}
