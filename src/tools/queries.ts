import { asc, desc, eq, lt, sql } from 'drizzle-orm'
import { nameKey } from '../core/name-key.ts'
import { hot, hotInsert } from '../platform/database/hot.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { adapters, calibrations, gauge_checks, gauges, withdrawals, wrenches } from './schema.ts'

export type WrenchRow = typeof wrenches.$inferSelect
export type CalibrationRow = typeof calibrations.$inferSelect
export type WithdrawalRow = typeof withdrawals.$inferSelect
export type GaugeRow = typeof gauges.$inferSelect
export type GaugeCheckRow = typeof gauge_checks.$inferSelect
export type AdapterRow = typeof adapters.$inferSelect

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

/** The record of that name, whatever its case. */
export function ofName<Row extends { name: string }>(rows: Row[], name: string): Row | undefined {
  return rows.find(row => nameKey(row.name) === nameKey(name))
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

const calibrationsOfAll = hot((read: Read) =>
  read.select().from(calibrations).orderBy(desc(calibrations.made_on), desc(calibrations.id)).prepare(),
)

/** Of every wrench, by its id; the latest first. */
export function calibrationsByWrench(read: Read): Map<string, CalibrationRow[]> {
  return byWrench(calibrationsOfAll(read).all())
}

function byWrench<Row extends { wrench_id: string }>(rows: readonly Row[]): Map<string, Row[]> {
  const groups = new Map<string, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.wrench_id)
    if (group === undefined) groups.set(row.wrench_id, [row])
    else group.push(row)
  }
  return groups
}

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

const withdrawalsOfAll = hot((read: Read) =>
  read.select().from(withdrawals).orderBy(desc(withdrawals.at), desc(withdrawals.id)).prepare(),
)

/** Of every wrench, by its id; the latest first. */
export function withdrawalsByWrench(read: Read): Map<string, WithdrawalRow[]> {
  return byWrench(withdrawalsOfAll(read).all())
}

/** The latest first. */
export function withdrawalsOf(read: Read, wrenchId: string): WithdrawalRow[] {
  return withdrawalsOfWrench(read).all({ wrenchId })
}

export const insertGauge = hotInsert(gauges)

export function updateGaugeRow(tx: Tx, row: GaugeRow): void {
  tx.update(gauges).set(row).where(eq(gauges.id, row.id)).run()
}

const gaugeOfId = hot((read: Read) =>
  read
    .select()
    .from(gauges)
    .where(eq(gauges.id, sql.placeholder('id')))
    .prepare(),
)

export function gaugeRow(read: Read, id: string): GaugeRow | undefined {
  return gaugeOfId(read).get({ id })
}

const allGauges = hot((read: Read) => read.select().from(gauges).orderBy(asc(gauges.name)).prepare())

/** By name. */
export function allGaugeRows(read: Read): GaugeRow[] {
  return allGauges(read).all()
}

export const insertGaugeCheck = hotInsert(gauge_checks)

const checksOfGauge = hot((read: Read) =>
  read
    .select()
    .from(gauge_checks)
    .where(eq(gauge_checks.gauge_id, sql.placeholder('gaugeId')))
    .orderBy(desc(gauge_checks.made_on), desc(gauge_checks.id))
    .prepare(),
)

/** The latest first. */
export function checksOf(read: Read, gaugeId: string): GaugeCheckRow[] {
  return checksOfGauge(read).all({ gaugeId })
}

export const insertAdapter = hotInsert(adapters)

export function updateAdapterRow(tx: Tx, row: AdapterRow): void {
  tx.update(adapters).set(row).where(eq(adapters.id, row.id)).run()
}

const adapterOfId = hot((read: Read) =>
  read
    .select()
    .from(adapters)
    .where(eq(adapters.id, sql.placeholder('id')))
    .prepare(),
)

export function adapterRow(read: Read, id: string): AdapterRow | undefined {
  return adapterOfId(read).get({ id })
}

const allAdapters = hot((read: Read) => read.select().from(adapters).orderBy(asc(adapters.name)).prepare())

/** By name. */
export function allAdapterRows(read: Read): AdapterRow[] {
  return allAdapters(read).all()
}
