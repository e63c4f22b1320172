import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { type FieldError, invalid, notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { NameInput, Procedure, ProcedureRevision, ProcedureRevisionInput } from '../contract.ts'
import * as revisions from '../queries/revisions.ts'
import * as queries from '../queries/rows.ts'
import { revisionFaults } from '../rules/revision-faults.ts'
import { fastenerCount } from '../rules/tightening.ts'
import { torqueCautions } from '../rules/torque-sense.ts'
import { refuseTakenName } from './names.ts'

const { procedures } = queries.NAMED

/** Owner. What a procedure says stands in its revisions. */
export function createProcedure(ctx: Context, input: NameInput): Procedure {
  authorise(ctx)
  return write(ctx, tx => {
    refuseTakenName(tx, procedures, input.name)
    const row = { ...newRecord(ctx), name: input.name }
    queries.insertRow(tx, procedures, row)
    recordEvent(ctx, tx, { action: 'procedure.created', table: 'procedures', id: row.id })
    return { ...row, created_at: toInstant(row.created_at) }
  })
}

/**
 * Owner. A revision is added and never changed: jobs keep the one they were written with. One that names what it supersedes
 * says that the earlier one was wrong. 422 for what the form of the fields cannot show: see rules/revision-faults.ts.
 */
export function addProcedureRevision(
  ctx: Context,
  procedureId: string,
  input: ProcedureRevisionInput,
): ProcedureRevision {
  authorise(ctx)
  return write(ctx, tx => {
    requireProcedure(tx, procedureId)
    const faults = [...revisionFaults(input), ...correctionFaults(tx, procedureId, input)]
    if (faults.length > 0) throw invalid(...faults)
    const row = {
      ...newRecord(ctx),
      procedure_id: procedureId,
      revision: (revisions.latestRevisionOf(tx, procedureId)?.revision ?? 0) + 1,
      layout: input.layout,
      count: fastenerCount(input)!,
      rows: input.rows ?? null,
      positions: input.positions ?? null,
      order: input.order ?? null,
      order_names: input.order_names ?? null,
      stages: input.stages.map(({ lower = null, upper = null, ...stage }) => ({
        ...stage,
        ...withoutNulls({ lower, upper }),
      })),
      thread: input.thread ?? null,
      class: input.class ?? null,
      finish: input.finish ?? null,
      marks: input.marks ?? null,
      reuse: input.reuse,
      severity: input.severity,
      on_failure: input.on_failure,
      source: input.source,
      supersedes_id: input.supersedes ?? null,
      reason: input.reason ?? null,
    }
    revisions.insertRevision(tx, row)
    const detail = { procedure_id: procedureId, revision: row.revision }
    recordEvent(ctx, tx, { action: 'procedure.revised', table: 'procedure_revisions', id: row.id, detail })
    return toWire(row)
  })
}

function correctionFaults(read: Read, procedureId: string, input: ProcedureRevisionInput): FieldError[] {
  const { supersedes, reason } = input
  if (supersedes === undefined) {
    if (reason === undefined) return []
    return [
      { pointer: '/supersedes', detail: 'Say which revision was wrong, or leave the reason out.', code: 'missing' },
    ]
  }
  if (revisions.revisionById(read, supersedes)?.procedure_id !== procedureId) {
    return [
      { pointer: '/supersedes', detail: `This procedure has no revision with the id ${supersedes}.`, code: 'unknown' },
    ]
  }
  if (reason !== undefined) return []
  return [
    { pointer: '/reason', detail: 'Say what was wrong with the revision that this one supersedes.', code: 'missing' },
  ]
}

/** 404 when there is none. */
export function procedureById(ctx: Context, id: string): Procedure {
  const row = requireProcedure(ctx.read, id)
  const revision = revisions.latestRevisionOf(ctx.read, id)?.revision
  return { ...row, created_at: toInstant(row.created_at), ...(revision !== undefined && { revision }) }
}

/** By name. */
export function allProcedures(ctx: Context): Procedure[] {
  return withNumbers(ctx, queries.allRows(ctx.read, procedures))
}

/** Newest first, after the id that the page before ended with. */
export function proceduresPage(ctx: Context, limit: number, after: string | null): Procedure[] {
  return withNumbers(ctx, queries.pageOfRows(ctx.read, procedures, limit, after))
}

/** Oldest first. 404 for an unknown procedure. */
export function procedureRevisions(ctx: Context, procedureId: string): ProcedureRevision[] {
  requireProcedure(ctx.read, procedureId)
  return revisions.revisionsOf(ctx.read, procedureId).map(toWire)
}

/** The newest revision; undefined before the first. 404 for an unknown procedure. */
export function latestRevision(ctx: Context, procedureId: string): ProcedureRevision | undefined {
  requireProcedure(ctx.read, procedureId)
  const row = revisions.latestRevisionOf(ctx.read, procedureId)
  return row && toWire(row)
}

function requireProcedure(read: Read, id: string): queries.SymptomRow {
  const row = queries.rowById(read, procedures, id)
  if (row === undefined) throw notFound('procedure', id)
  return row
}

function withNumbers(ctx: Context, rows: queries.SymptomRow[]): Procedure[] {
  const newest = revisions.newestNumbers(ctx.read)
  return rows.map(row => {
    const revision = newest.get(row.id)
    return { ...row, created_at: toInstant(row.created_at), ...(revision !== undefined && { revision }) }
  })
}

function toWire(row: revisions.RevisionRow): ProcedureRevision {
  const { id, created_by, procedure_id, revision, layout, count, stages, reuse, severity, on_failure, source } = row
  const { rows, positions, order, order_names, thread, finish, marks, reason } = row
  const given = {
    rows,
    positions,
    order,
    order_names,
    thread,
    class: row.class,
    finish,
    marks,
    supersedes: row.supersedes_id,
    reason,
  }
  const own = { id, created_at: toInstant(row.created_at), created_by, procedure_id, revision, layout, count }
  const said = withoutNulls(given)
  const warnings = torqueCautions({ stages, ...said })
  return { ...own, stages, reuse, severity, on_failure, source, ...said, warnings }
}
