import {
  componentNames,
  ensureComponent,
  ensureFailureMode,
  ensureSymptom,
  failureModeNames,
  symptomNames,
} from '../../catalogue/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known, notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { together } from '../../platform/together.ts'
import { toInstant } from '../../platform/wire.ts'
import { requireVehicle } from '../../vehicles/index.ts'
import { vehicleOfJob } from '../../work-orders/index.ts'
import type { Finding, FindingInput } from '../contract.ts'
import {
  type FindingRow,
  findingById,
  findingRows,
  findingsOfJobs,
  findingsOfVehicle,
  insertFinding,
  openSafetyFindings,
  priorWorkById,
} from '../queries.ts'

/**
 * Notes what was seen on a vehicle (T), with the earlier work that caused it where the person says so. Unknown names of
 * component, failure mode and symptom are created. Problems: role-not-allowed, invalid-input for ids that name nothing or
 * belong to another vehicle.
 */
export function recordFinding(ctx: Context, input: FindingInput): Finding {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const { vehicle_id, job_id, caused_by } = input
    const { cause } = together({
      vehicle: () => known('/vehicle_id', () => requireVehicle(ctx, vehicle_id)),
      job: () => job_id !== undefined && requireJobOn(ctx, '/job_id', job_id, vehicle_id),
      cause: () => causeOn(ctx, caused_by, vehicle_id),
      limits: () => refuseMissingLimits(input),
    })
    const row: FindingRow = {
      ...newRecord(ctx),
      vehicle_id: input.vehicle_id,
      job_id: input.job_id ?? null,
      component_id: ensureComponent(ctx, tx, input.component),
      failure_mode_id: input.failure_mode === undefined ? null : ensureFailureMode(ctx, tx, input.failure_mode),
      severity: input.severity,
      found_on: input.found_on,
      symptom_id: input.symptom === undefined ? null : ensureSymptom(ctx, tx, input.symptom),
      caused_by_job_id: cause.job,
      caused_by_prior_work_id: cause.priorWork,
      advice: input.advice ?? null,
      limits: input.limits ?? null,
      note: input.note ?? null,
    }
    insertFinding(tx, row)
    recordEvent(ctx, tx, { action: 'finding.recorded', table: 'findings', id: row.id })
    return toWire(ctx, row)
  })
}

export function oneFinding(ctx: Context, id: string): Finding {
  const row = findingById(ctx.read, id)
  if (row === undefined) throw notFound('finding', id)
  return toWire(ctx, row)
}

/** Newest first. */
export function findingsOn(ctx: Context, vehicleId: string): Finding[] {
  requireVehicle(ctx, vehicleId)
  return findingsToWire(ctx, findingsOfVehicle(ctx.read, vehicleId))
}

/** What safety hangs on and nobody has put right, as far as is written down; oldest first. 404 for an unknown vehicle. */
export function openSafetyFindingsOn(ctx: Context, vehicleId: string): Finding[] {
  requireVehicle(ctx, vehicleId)
  return findingsToWire(ctx, openSafetyFindings(ctx.read, vehicleId))
}

/** On one vehicle or on all, newest first, after the id that the page before ended with. 404 for an unknown vehicle. */
export function findingsPage(
  ctx: Context,
  vehicleId: string | undefined,
  limit: number,
  after: string | null,
): Finding[] {
  if (vehicleId !== undefined) requireVehicle(ctx, vehicleId)
  return findingsToWire(ctx, findingRows(ctx.read, vehicleId, limit, after))
}

export function findingsOnJobs(ctx: Context, jobIds: string[]): Finding[] {
  return findingsToWire(ctx, findingsOfJobs(ctx.read, jobIds))
}

/** A finding of this vehicle, or 422. */
export function requireFindingOn(ctx: Context, findingId: string, vehicleId: string, pointer = '/finding_id'): void {
  if (findingById(ctx.read, findingId)?.vehicle_id === vehicleId) return
  throw invalid({ pointer, detail: 'This vehicle has no such finding.', code: 'unknown' })
}

function requireJobOn(ctx: Context, pointer: string, jobId: string, vehicleId: string): void {
  if (known(pointer, () => vehicleOfJob(ctx, jobId)) === vehicleId) return
  throw invalid({ pointer, detail: 'That job was done on another vehicle.', code: 'does_not_fit' })
}

function refuseMissingLimits({ advice, limits }: FindingInput): void {
  if (advice !== 'within_limits' || limits !== undefined) return
  throw invalid({ pointer: '/limits', detail: 'Say within which limits, and until when.', code: 'missing' })
}

function causeOn(ctx: Context, cause: FindingInput['caused_by'], vehicleId: string) {
  if (cause === undefined) return { job: null, priorWork: null }
  if ('job_id' in cause) {
    requireJobOn(ctx, '/caused_by/job_id', cause.job_id, vehicleId)
    return { job: cause.job_id, priorWork: null }
  }
  const work = priorWorkById(ctx.read, cause.prior_work_id)
  if (work?.vehicle_id !== vehicleId)
    throw invalid({
      pointer: '/caused_by/prior_work_id',
      detail: 'This vehicle has no such prior work.',
      code: 'unknown',
    })
  return { job: null, priorWork: work.id }
}

function toWire(ctx: Context, row: FindingRow): Finding {
  return findingsToWire(ctx, [row])[0]!
}

export function findingsToWire(ctx: Context, rows: readonly FindingRow[]): Finding[] {
  const names: CatalogueNames = {
    components: namesById(
      ctx,
      componentNames,
      rows.map(row => row.component_id),
    ),
    failure_modes: namesById(
      ctx,
      failureModeNames,
      rows.map(row => row.failure_mode_id),
    ),
    symptoms: namesById(
      ctx,
      symptomNames,
      rows.map(row => row.symptom_id),
    ),
  }
  return rows.map(row => rowToWire(row, names))
}

type CatalogueNames = Record<'components' | 'failure_modes' | 'symptoms', Map<string | null, string>>

function namesById(
  ctx: Context,
  names: (ctx: Context, ids: string[]) => string[],
  someIds: readonly (string | null)[],
): Map<string | null, string> {
  const ids = [...new Set(someIds.filter(id => id !== null))]
  const found = names(ctx, ids)
  return new Map(ids.map((id, at) => [id, found[at]!]))
}

function rowToWire(row: FindingRow, names: CatalogueNames): Finding {
  const failureMode = names.failure_modes.get(row.failure_mode_id)
  const symptom = names.symptoms.get(row.symptom_id)
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    vehicle_id: row.vehicle_id,
    ...(row.job_id !== null && { job_id: row.job_id }),
    component: names.components.get(row.component_id)!,
    ...(failureMode !== undefined && { failure_mode: failureMode }),
    severity: row.severity,
    found_on: row.found_on,
    ...(symptom !== undefined && { symptom }),
    ...(row.caused_by_job_id !== null && { caused_by: { job_id: row.caused_by_job_id } }),
    ...(row.caused_by_prior_work_id !== null && { caused_by: { prior_work_id: row.caused_by_prior_work_id } }),
    ...(row.advice !== null && { advice: row.advice }),
    ...(row.limits !== null && { limits: row.limits }),
    ...(row.note !== null && { note: row.note }),
  }
}
