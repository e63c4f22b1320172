import type { Context } from '../../platform/context.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { NamedRecord } from '../contract.ts'
import * as queries from '../queries/names.ts'
import { families, variants } from '../schema.ts'

/**
 * The id of the family of that name; made when it is new. A name that differs from a known one in case only is that one.
 * For use inside a write whose own event then covers the row.
 */
export function ensureFamily(ctx: Context, tx: Tx, name: string): string {
  return ensureName(ctx, tx, families, name)
}

/** As `ensureFamily`, for a variant. */
export function ensureVariant(ctx: Context, tx: Tx, name: string): string {
  return ensureName(ctx, tx, variants, name)
}

function ensureName(ctx: Context, tx: Tx, table: queries.NameTable, name: string): string {
  const known = queries.rowOfName(tx, table, name)
  if (known !== undefined) return known.id
  const row = { ...newRecord(ctx), name }
  queries.insertName(tx, table, row)
  return row.id
}

/** The name of a family that is there. */
export function familyName(read: Read, id: string): string | undefined {
  return queries.nameById(read, families, id)?.name
}

/** Every family, by name. */
export function allFamilies(ctx: Context): NamedRecord[] {
  return queries.allNames(ctx.read, families).map(toNamed)
}

/** Every variant, by name. */
export function allVariants(ctx: Context): NamedRecord[] {
  return queries.allNames(ctx.read, variants).map(toNamed)
}

/** The family of that name, whatever its case; undefined when there is none. */
export function familyOfName(ctx: Context, name: string): NamedRecord | undefined {
  const row = queries.rowOfName(ctx.read, families, name)
  return row && toNamed(row)
}

/** As `familyOfName`, for a variant. */
export function variantOfName(ctx: Context, name: string): NamedRecord | undefined {
  const row = queries.rowOfName(ctx.read, variants, name)
  return row && toNamed(row)
}

function toNamed(row: queries.NamedRow): NamedRecord {
  return { ...row, created_at: toInstant(row.created_at) }
}
