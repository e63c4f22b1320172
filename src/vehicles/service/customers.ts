import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { mergePatch, requireVersion } from '../../platform/edits.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { edited, newEditable, newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Customer, CustomerErasure, CustomerInput, CustomerPatch } from '../contract.ts'
import * as queries from '../queries/customers.ts'
import { findCustomerIds, nearlyIds } from '../queries/find-index.ts'
import { findKey, wanted } from '../rules.ts'

/** What stands in place of the name of somebody who was erased. */
const ERASED_NAME = 'Erased'

/** Desk. */
export function createCustomer(ctx: Context, input: CustomerInput): Customer {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const row = { ...newEditable(ctx), ...columns(input), salt: ctx.ids.next() }
    queries.insertCustomer(tx, row)
    recordEvent(ctx, tx, { action: 'customer.created', table: 'customers', id: row.id })
    return toWire(row)
  })
}

/** Desk. `version` is the one that the person read; 412 when the record has moved on. */
export function updateCustomer(ctx: Context, id: string, version: number, patch: CustomerPatch): Customer {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const row = requireRow(tx, id)
    requireVersion(row.version, version)
    const changed = { ...row, ...columns(mergePatch(toInput(row), patch)), ...edited(ctx, row) }
    queries.updateCustomerRow(tx, changed)
    recordEvent(ctx, tx, { action: 'customer.edited', table: 'customers', id })
    return toWire(changed)
  })
}

/** 404 when there is none. */
export function customerById(ctx: Context, id: string): Customer {
  return toWire(requireRow(ctx.read, id))
}

/** Newest first. `q` looks in names and telephone numbers, whatever their case, accents and blanks. */
export function listCustomers(
  ctx: Context,
  page: { q?: string | undefined; limit: number; after: string | null },
): Customer[] {
  const q = page.q?.trim() ?? ''
  if (q === '') return queries.customerRows(ctx.read, page).map(toWire)
  const looked = wanted(q)
  return looked === null ? [] : inOrder(ctx, findCustomerIds(ctx.read, looked, page.limit, page.after))
}

/** Customers of just this name, or who are called on this telephone: case and blanks make no other. */
export function customersCalled(
  ctx: Context,
  { name, phone }: { name: string; phone?: string | undefined },
): Customer[] {
  const plain = (text: string) => text.toLowerCase().replace(/\s+/g, ' ').trim()
  const digits = (text: string) => text.replace(/\D/g, '')
  const like = (q: string) => listCustomers(ctx, { q, limit: 50, after: null })
  const named = like(name).filter(each => plain(each.name) === plain(name))
  const called =
    phone === undefined || digits(phone) === ''
      ? []
      : like(phone).filter(each => each.phone !== undefined && digits(each.phone) === digits(phone))
  return [...new Map([...called, ...named].map(each => [each.id, each])).values()]
}

/** Those whose name or telephone is `q` but for one typing error. */
export function nearlyCustomers(ctx: Context, q: string, limit: number): Customer[] {
  const looked = wanted(q)
  return looked === null ? [] : inOrder(ctx, nearlyIds(ctx.read, 'customers', looked, limit))
}

function inOrder(ctx: Context, ids: readonly string[]): Customer[] {
  const rows = new Map(queries.customerRowsByIds(ctx.read, ids).map(row => [row.id, row]))
  return ids.flatMap(id => rows.get(id) ?? []).map(toWire)
}

/** In no particular order; an id that names nothing is not among them. */
export function customersByIds(ctx: Context, ids: readonly string[]): Customer[] {
  return queries.customerRowsByIds(ctx.read, ids).map(toWire)
}

/**
 * Empties the personal words of a customer and changes the salt, so that the chain stays whole and the old digest tells
 * nothing. For the erasure of a person, which reaches further than this record: its use case does the rest of it in the
 * same write, and records the event. 409 `customer-erased` when it was done before.
 */
export function eraseCustomerRecord(ctx: Context, tx: Tx, id: string, reason: string): CustomerErasure {
  const row = requireRow(tx, id)
  if (queries.erasureOf(tx, id) !== undefined)
    throw problem('customer-erased', { detail: 'This customer was erased before.' })
  const empty = { name: ERASED_NAME, phone: null, email: null, address: null, note: null, find_key: '' }
  queries.updateCustomerRow(tx, { ...row, ...empty, salt: ctx.ids.next(), ...edited(ctx, row) })
  const erasure = { ...newRecord(ctx), customer_id: id, reason }
  queries.insertErasure(tx, erasure)
  return { ...erasure, created_at: toInstant(erasure.created_at) }
}

/** 404 when the customer was never erased. */
export function erasureOfCustomer(ctx: Context, id: string): CustomerErasure {
  requireRow(ctx.read, id)
  const row = queries.erasureOf(ctx.read, id)
  if (row === undefined) throw notFound('erasure of the customer', id)
  return { ...row, created_at: toInstant(row.created_at) }
}

function requireRow(read: Parameters<typeof queries.customerRow>[0], id: string): queries.CustomerRow {
  const row = queries.customerRow(read, id)
  if (row === undefined) throw notFound('customer', id)
  return row
}

function columns(input: CustomerInput) {
  const { name, phone = null, email = null, address = null, note = null } = input
  return { name, phone, email, address, note, find_key: findKey(name, ...name.split(/\s+/), phone) }
}

function toInput(row: queries.CustomerRow): CustomerInput {
  const { name, phone, email, address, note } = row
  return withoutNulls({ name, phone, email, address, note })
}

function toWire(row: queries.CustomerRow): Customer {
  const { id, created_by, version } = row
  const [created_at, updated_at] = [toInstant(row.created_at), toInstant(row.updated_at)]
  return { id, created_at, created_by, updated_at, version, ...toInput(row) }
}
