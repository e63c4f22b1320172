import { and, asc, desc, eq, gt, lt, sql } from 'drizzle-orm'
import { hot, hotInsert, idList, isAmong } from '../platform/database/hot.ts'
import type { Read } from '../platform/database/types.ts'
import {
  advice_tellings,
  checks_made,
  final_check_results,
  findings,
  left_for_later,
  left_for_later_settlements,
  look_results,
  prior_works,
} from './schema.ts'

export type PriorWorkRow = typeof prior_works.$inferSelect
export type FindingRow = typeof findings.$inferSelect
export type CheckMadeRow = typeof checks_made.$inferSelect
export type LookResultRow = typeof look_results.$inferSelect
export type FinalCheckResultRow = typeof final_check_results.$inferSelect
export type LeftForLaterRow = typeof left_for_later.$inferSelect & { settled_by_job_id: string | null }

export const insertPriorWork = hotInsert(prior_works)

const worksOfVehicle = hot((read: Read) =>
  read
    .select()
    .from(prior_works)
    .where(eq(prior_works.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(asc(prior_works.on), asc(prior_works.id))
    .prepare(),
)

export function priorWorksOfVehicle(read: Read, vehicleId: string): PriorWorkRow[] {
  return worksOfVehicle(read).all({ vehicleId })
}

const workOfId = hot((read: Read) =>
  read
    .select()
    .from(prior_works)
    .where(eq(prior_works.id, sql.placeholder('id')))
    .prepare(),
)

export function priorWorkById(read: Read, id: string): PriorWorkRow | undefined {
  return workOfId(read).get({ id })
}

export const insertFinding = hotInsert(findings)

const findingOfId = hot((read: Read) =>
  read
    .select()
    .from(findings)
    .where(eq(findings.id, sql.placeholder('id')))
    .prepare(),
)

export function findingById(read: Read, id: string): FindingRow | undefined {
  return findingOfId(read).get({ id })
}

const ofVehicle = hot((read: Read) =>
  read
    .select()
    .from(findings)
    .where(eq(findings.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(desc(findings.id))
    .prepare(),
)

export function findingsOfVehicle(read: Read, vehicleId: string): FindingRow[] {
  return ofVehicle(read).all({ vehicleId })
}

/** A page of the findings, newest first, of one vehicle or of all; `after` is the id that the page before ended with. */
export function findingRows(
  read: Read,
  vehicleId: string | undefined,
  limit: number,
  after: string | null,
): FindingRow[] {
  return read
    .select()
    .from(findings)
    .where(
      and(
        vehicleId === undefined ? undefined : eq(findings.vehicle_id, vehicleId),
        after === null ? undefined : lt(findings.id, after),
      ),
    )
    .orderBy(desc(findings.id))
    .limit(limit)
    .all()
}

const ofJobs = hot((read: Read) =>
  read.select().from(findings).where(isAmong(findings.job_id, 'jobIds')).orderBy(asc(findings.id)).prepare(),
)

export function findingsOfJobs(read: Read, jobIds: string[]): FindingRow[] {
  return ofJobs(read).all({ jobIds: idList(jobIds) })
}

export const insertAdviceTelling = hotInsert(advice_tellings)

const tellingsOf = hot((read: Read) =>
  read
    .select({ finding_id: advice_tellings.finding_id, talk_id: advice_tellings.talk_id })
    .from(advice_tellings)
    .where(isAmong(advice_tellings.talk_id, 'talkIds'))
    .orderBy(asc(advice_tellings.id))
    .prepare(),
)

export function adviceTellingsInTalks(read: Read, talkIds: string[]): { finding_id: string; talk_id: string }[] {
  return tellingsOf(read).all({ talkIds: idList(talkIds) })
}

const toldOf = hot((read: Read) =>
  read
    .selectDistinct({ finding_id: advice_tellings.finding_id })
    .from(advice_tellings)
    .where(isAmong(advice_tellings.finding_id, 'findingIds'))
    .prepare(),
)

/** Of these findings the ones that somebody has passed on. */
export function toldFindings(read: Read, findingIds: string[]): Set<string> {
  return new Set(
    toldOf(read)
      .all({ findingIds: idList(findingIds) })
      .map(row => row.finding_id),
  )
}

const ofStay = hot((read: Read) =>
  read
    .select()
    .from(findings)
    .where(
      sql`${findings.vehicle_id} = ${sql.placeholder('vehicleId')} and (
        ${findings.job_id} in (select id from jobs where work_order_id = ${sql.placeholder('orderId')})
        or (${findings.job_id} is null and ${findings.created_at} >= ${sql.placeholder('since')}))`,
    )
    .orderBy(asc(findings.id))
    .prepare(),
)

/** Of a stay that has not ended: noted on one of its jobs, or on the vehicle since it came in. Oldest first. */
export function findingsOfStay(read: Read, stay: { orderId: string; vehicleId: string; since: number }): FindingRow[] {
  return ofStay(read).all(stay)
}

const openSafety = hot((read: Read) =>
  read
    .select()
    .from(findings)
    .where(
      sql`${findings.vehicle_id} = ${sql.placeholder('vehicleId')} and ${findings.severity} = 'safety'
        and not exists (select 1 from jobs j join work_orders w on w.id = j.work_order_id
          where w.vehicle_id = "findings"."vehicle_id" and not exists (select 1 from job_voidings v where v.job_id = j.id)
            and (j.settles_finding_id = "findings"."id"
              or (j.operation_id = (select remedy_operation_id from components where id = "findings"."component_id")
                and (j.created_at >= "findings"."created_at"
                  or j.work_order_id = (select work_order_id from jobs where id = "findings"."job_id")))))
        and not exists (select 1 from look_results r join job_looks l on l.id = r.look_id join jobs j on j.id = l.job_id
          join work_orders w on w.id = j.work_order_id where w.vehicle_id = "findings"."vehicle_id" and r.fine = 1
          and l.component_id = "findings"."component_id" and r.created_at > "findings"."created_at")`,
    )
    .orderBy(asc(findings.id))
    .prepare(),
)

/**
 * Of a vehicle: what safety hangs on, which no job puts right (one that names it, or the component's remedy on the same stay or
 * since), and no later look found fine. Oldest first.
 */
export function openSafetyFindings(read: Read, vehicleId: string): FindingRow[] {
  return openSafety(read).all({ vehicleId })
}

export const insertLookResult = hotInsert(look_results)

const resultsOfLooks = hot((read: Read) =>
  read.select().from(look_results).where(isAmong(look_results.look_id, 'lookIds')).prepare(),
)

export function lookResultsOf(read: Read, lookIds: string[]): LookResultRow[] {
  return resultsOfLooks(read).all({ lookIds: idList(lookIds) })
}

export const insertCheckMade = hotInsert(checks_made)

const checksOfOrder = hot((read: Read) =>
  read
    .select()
    .from(checks_made)
    .where(eq(checks_made.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(checks_made.id))
    .prepare(),
)

/** Oldest first. */
export function checksMade(read: Read, orderId: string): CheckMadeRow[] {
  return checksOfOrder(read).all({ orderId })
}

export const insertFinalCheckResult = hotInsert(final_check_results)

const resultsOfFinalChecks = hot((read: Read) =>
  read
    .select()
    .from(final_check_results)
    .where(isAmong(final_check_results.final_check_id, 'finalCheckIds'))
    .orderBy(asc(final_check_results.created_at), asc(final_check_results.id))
    .prepare(),
)

/** Oldest first, so that the newest of a check comes last. */
export function finalCheckResultsOf(read: Read, finalCheckIds: string[]): FinalCheckResultRow[] {
  return resultsOfFinalChecks(read).all({ finalCheckIds: idList(finalCheckIds) })
}

export const insertLeftForLater = hotInsert(left_for_later)

export const insertLeftForLaterSettlement = hotInsert(left_for_later_settlements)

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

const leftOfVehicle = hot((read: Read) =>
  leftForLater(read)
    .where(eq(left_for_later.vehicle_id, sql.placeholder('vehicleId')))
    .orderBy(asc(left_for_later.id))
    .prepare(),
)

export function leftForLaterOfVehicle(read: Read, vehicleId: string): LeftForLaterRow[] {
  return leftOfVehicle(read).all({ vehicleId })
}

/** A page of what was left for later, oldest first, on one vehicle or on all; `after` as in `findingRows`. */
export function leftForLaterRows(
  read: Read,
  vehicleId: string | undefined,
  limit: number,
  after: string | null,
): LeftForLaterRow[] {
  return leftForLater(read)
    .where(
      and(
        vehicleId === undefined ? undefined : eq(left_for_later.vehicle_id, vehicleId),
        after === null ? undefined : gt(left_for_later.id, after),
      ),
    )
    .orderBy(asc(left_for_later.id))
    .limit(limit)
    .all()
}

const leftOfId = hot((read: Read) =>
  leftForLater(read)
    .where(eq(left_for_later.id, sql.placeholder('id')))
    .prepare(),
)

export function leftForLaterById(read: Read, id: string): LeftForLaterRow | undefined {
  return leftOfId(read).get({ id })
}
