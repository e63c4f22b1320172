import { asc, desc, eq, lt } from 'drizzle-orm'
import { nameKey } from '../core/name-key.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { calibrations, withdrawals, wrenches } from './schema.ts'

export type WrenchRow = typeof wrenches.$inferSelect
export type CalibrationRow = typeof calibrations.$inferSelect
export type WithdrawalRow = typeof withdrawals.$inferSelect

export function insertWrench(tx: Tx, row: WrenchRow): void {
  tx.insert(wrenches).values(row).run()
}

export function updateWrenchRow(tx: Tx, row: WrenchRow): void {
  tx.update(wrenches).set(row).where(eq(wrenches.id, row.id)).run()
}

export function wrenchRow(read: Read, id: string): WrenchRow | undefined {
  return read.select().from(wrenches).where(eq(wrenches.id, id)).get()
}

/** The wrench of that name, whatever its case. */
export function wrenchOfName(read: Read, name: string): WrenchRow | undefined {
  return allWrenchRows(read).find(row => nameKey(row.name) === nameKey(name))
}

/** By name. */
export function allWrenchRows(read: Read): WrenchRow[] {
  return read.select().from(wrenches).orderBy(asc(wrenches.name)).all()
}

/** Newest first; `after` is the id that the page before ended with. */
export function wrenchRows(read: Read, limit: number, after: string | null): WrenchRow[] {
  const older = after === null ? undefined : lt(wrenches.id, after)
  return read.select().from(wrenches).where(older).orderBy(desc(wrenches.id)).limit(limit).all()
}

export function insertCalibration(tx: Tx, row: CalibrationRow): void {
  tx.insert(calibrations).values(row).run()
}

/** The latest first. */
export function calibrationsOf(read: Read, wrenchId: string): CalibrationRow[] {
  return read
    .select()
    .from(calibrations)
    .where(eq(calibrations.wrench_id, wrenchId))
    .orderBy(desc(calibrations.made_on), desc(calibrations.id))
    .all()
}

export function insertWithdrawal(tx: Tx, row: WithdrawalRow): void {
  tx.insert(withdrawals).values(row).run()
}

/** The latest first. */
export function withdrawalsOf(read: Read, wrenchId: string): WithdrawalRow[] {
  return read
    .select()
    .from(withdrawals)
    .where(eq(withdrawals.wrench_id, wrenchId))
    .orderBy(desc(withdrawals.at), desc(withdrawals.id))
    .all()
}
