import { asc, desc, eq, lt, sql } from 'drizzle-orm'
import { nameKey } from '../core/name-key.ts'
import { hot, hotInsert } from '../platform/database/hot.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { calibrations, withdrawals, wrenches } from './schema.ts'

export type WrenchRow = typeof wrenches.$inferSelect
export type CalibrationRow = typeof calibrations.$inferSelect
export type WithdrawalRow = typeof withdrawals.$inferSelect

export const insertWrench = hotInsert(wrenches)

export function updateWrenchRow(tx: Tx, row: WrenchRow): void {
  tx.update(wrenches).set(row).where(eq(wrenches.id, row.id)).run()
}

const wrenchOfId = hot((read: Read) =>
  read
    .select()
    .from(wrenches)
    .where(eq(wrenches.id, sql.placeholder('id')))
    .prepare(),
)

export function wrenchRow(read: Read, id: string): WrenchRow | undefined {
  return wrenchOfId(read).get({ id })
}

/** The wrench of that name, whatever its case. */
export function wrenchOfName(read: Read, name: string): WrenchRow | undefined {
  return allWrenchRows(read).find(row => nameKey(row.name) === nameKey(name))
}

const allWrenches = hot((read: Read) => read.select().from(wrenches).orderBy(asc(wrenches.name)).prepare())

/** By name. */
export function allWrenchRows(read: Read): WrenchRow[] {
  return allWrenches(read).all()
}

/** Newest first; `after` is the id that the page before ended with. */
export function wrenchRows(read: Read, limit: number, after: string | null): WrenchRow[] {
  const older = after === null ? undefined : lt(wrenches.id, after)
  return read.select().from(wrenches).where(older).orderBy(desc(wrenches.id)).limit(limit).all()
}

export const insertCalibration = hotInsert(calibrations)

const calibrationsOfWrench = hot((read: Read) =>
  read
    .select()
    .from(calibrations)
    .where(eq(calibrations.wrench_id, sql.placeholder('wrenchId')))
    .orderBy(desc(calibrations.made_on), desc(calibrations.id))
    .prepare(),
)

/** The latest first. */
export function calibrationsOf(read: Read, wrenchId: string): CalibrationRow[] {
  return calibrationsOfWrench(read).all({ wrenchId })
}

export const insertWithdrawal = hotInsert(withdrawals)

const withdrawalsOfWrench = hot((read: Read) =>
  read
    .select()
    .from(withdrawals)
    .where(eq(withdrawals.wrench_id, sql.placeholder('wrenchId')))
    .orderBy(desc(withdrawals.at), desc(withdrawals.id))
    .prepare(),
)

/** The latest first. */
export function withdrawalsOf(read: Read, wrenchId: string): WithdrawalRow[] {
  return withdrawalsOfWrench(read).all({ wrenchId })
}
