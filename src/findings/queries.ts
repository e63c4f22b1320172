import { asc, desc, eq, inArray } from 'drizzle-orm'
import type { Read, Tx } from '../platform/database/types.ts'
import {
  final_check_results,
  findings,
  left_for_later,
  left_for_later_settlements,
  look_results,
  prior_works,
} from './schema.ts'

export type PriorWorkRow = typeof prior_works.$inferSelect
export type FindingRow = typeof findings.$inferSelect
export type LookResultRow = typeof look_results.$inferSelect
export type FinalCheckResultRow = typeof final_check_results.$inferSelect
export type LeftForLaterRow = typeof left_for_later.$inferSelect & { settled_by_job_id: string | null }

export function insertPriorWork(tx: Tx, row: PriorWorkRow): void {
  tx.insert(prior_works).values(row).run()
}

export function priorWorksOfVehicle(read: Read, vehicleId: string): PriorWorkRow[] {
  return read
    .select()
    .from(prior_works)
    .where(eq(prior_works.vehicle_id, vehicleId))
    .orderBy(asc(prior_works.on), asc(prior_works.id))
    .all()
}

export function priorWorkById(read: Read, id: string): PriorWorkRow | undefined {
  return read.select().from(prior_works).where(eq(prior_works.id, id)).get()
}

export function insertFinding(tx: Tx, row: FindingRow): void {
  tx.insert(findings).values(row).run()
}

export function findingById(read: Read, id: string): FindingRow | undefined {
  return read.select().from(findings).where(eq(findings.id, id)).get()
}

export function findingsOfVehicle(read: Read, vehicleId: string): FindingRow[] {
  return read.select().from(findings).where(eq(findings.vehicle_id, vehicleId)).orderBy(desc(findings.id)).all()
}

export function findingsOfJobs(read: Read, jobIds: string[]): FindingRow[] {
  return read.select().from(findings).where(inArray(findings.job_id, jobIds)).orderBy(asc(findings.id)).all()
}

export function insertLookResult(tx: Tx, row: LookResultRow): void {
  tx.insert(look_results).values(row).run()
}

export function lookResultsOf(read: Read, lookIds: string[]): LookResultRow[] {
  return read.select().from(look_results).where(inArray(look_results.look_id, lookIds)).all()
}

export function insertFinalCheckResult(tx: Tx, row: FinalCheckResultRow): void {
  tx.insert(final_check_results).values(row).run()
}

/** Oldest first, so that the newest of a check comes last. */
export function finalCheckResultsOf(read: Read, finalCheckIds: string[]): FinalCheckResultRow[] {
  return read
    .select()
    .from(final_check_results)
    .where(inArray(final_check_results.final_check_id, finalCheckIds))
    .orderBy(asc(final_check_results.created_at), asc(final_check_results.id))
    .all()
}

export function insertLeftForLater(tx: Tx, row: typeof left_for_later.$inferSelect): void {
  tx.insert(left_for_later).values(row).run()
}

export function insertLeftForLaterSettlement(tx: Tx, row: typeof left_for_later_settlements.$inferSelect): void {
  tx.insert(left_for_later_settlements).values(row).run()
}

function leftForLater(read: Read) {
  return read
    .select({
      id: left_for_later.id,
      created_at: left_for_later.created_at,
      created_by: left_for_later.created_by,
      vehicle_id: left_for_later.vehicle_id,
      finding_id: left_for_later.finding_id,
      text: left_for_later.text,
      amount_minor: left_for_later.amount_minor,
      settled_by_job_id: left_for_later_settlements.job_id,
    })
    .from(left_for_later)
    .leftJoin(left_for_later_settlements, eq(left_for_later_settlements.left_for_later_id, left_for_later.id))
}

export function leftForLaterOfVehicle(read: Read, vehicleId: string): LeftForLaterRow[] {
  return leftForLater(read).where(eq(left_for_later.vehicle_id, vehicleId)).orderBy(asc(left_for_later.id)).all()
}

export function leftForLaterById(read: Read, id: string): LeftForLaterRow | undefined {
  return leftForLater(read).where(eq(left_for_later.id, id)).get()
}
