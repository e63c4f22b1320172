import { and, asc, eq, sql } from 'drizzle-orm'
import { alias } from 'drizzle-orm/sqlite-core'
import { procedure_revisions, procedures } from '../../catalogue/schema.ts'
import { batch_faults, parts } from '../../parts/schema.ts'
import { hot } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { calibrations, doubted_since, gauge_checks, gauges, withdrawals, wrenches } from '../../tools/schema.ts'

const wrenchChecks = hot((read: Read) =>
  read
    .select({
      id: calibrations.id,
      tool_id: calibrations.wrench_id,
      tool_name: wrenches.name,
      made_on: calibrations.made_on,
      created_at: calibrations.created_at,
      found: calibrations.found,
      certificate: calibrations.certificate,
    })
    .from(calibrations)
    .innerJoin(wrenches, eq(wrenches.id, calibrations.wrench_id))
    .prepare(),
)

const checksOfGauges = hot((read: Read) =>
  read
    .select({
      id: gauge_checks.id,
      tool_id: gauge_checks.gauge_id,
      tool_name: gauges.name,
      made_on: gauge_checks.made_on,
      created_at: gauge_checks.created_at,
      found: gauge_checks.found,
      certificate: gauge_checks.certificate,
    })
    .from(gauge_checks)
    .innerJoin(gauges, eq(gauges.id, gauge_checks.gauge_id))
    .prepare(),
)

/** Every calibration of every wrench: a shop has a handful of them a year. */
export function allCalibrations(read: Read) {
  return wrenchChecks(read).all()
}
export type CheckRow = ReturnType<typeof allCalibrations>[number]

export function allGaugeChecks(read: Read): CheckRow[] {
  return checksOfGauges(read).all()
}

const drops = hot((read: Read) =>
  read
    .select({
      id: withdrawals.id,
      tool_id: withdrawals.wrench_id,
      tool_name: wrenches.name,
      at: withdrawals.at,
      reason: withdrawals.reason,
      created_at: withdrawals.created_at,
    })
    .from(withdrawals)
    .innerJoin(wrenches, eq(wrenches.id, withdrawals.wrench_id))
    .prepare(),
)

export function allDrops(read: Read) {
  return drops(read).all()
}
export type DropRow = ReturnType<typeof allDrops>[number]

const narrowings = hot((read: Read) =>
  read.select().from(doubted_since).orderBy(asc(doubted_since.created_at), asc(doubted_since.id)).prepare(),
)

/** What people have said of since when a wrench is doubted, by its calibration: the newest counts. */
export function newestNarrowings(read: Read) {
  return new Map(
    narrowings(read)
      .all()
      .map(row => [row.calibration_id, row]),
  )
}

const faults = hot((read: Read) =>
  read
    .select({
      id: batch_faults.id,
      batch: batch_faults.batch,
      reason: batch_faults.reason,
      created_at: batch_faults.created_at,
      part_number: parts.number,
      part_name: parts.name,
    })
    .from(batch_faults)
    .innerJoin(parts, eq(parts.id, batch_faults.part_id))
    .prepare(),
)

export function allBatchFaults(read: Read) {
  return faults(read).all()
}
export type BatchFaultRow = ReturnType<typeof allBatchFaults>[number]

const wrong = alias(procedure_revisions, 'wrong')

const corrected = hot((read: Read) =>
  read
    .select({
      id: procedure_revisions.id,
      created_at: procedure_revisions.created_at,
      reason: sql<string>`${procedure_revisions.reason}`,
      procedure_name: procedures.name,
      wrong_revision: wrong.revision,
    })
    .from(procedure_revisions)
    .innerJoin(wrong, and(eq(wrong.id, procedure_revisions.supersedes_id)))
    .innerJoin(procedures, eq(procedures.id, procedure_revisions.procedure_id))
    .prepare(),
)

/** The revisions that call an earlier one wrong. */
export function correctingRevisions(read: Read) {
  return corrected(read).all()
}
export type CorrectingRevisionRow = ReturnType<typeof correctingRevisions>[number]
