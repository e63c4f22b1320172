import { askForLook, asksForLook, componentsByIds, operationById, requireComponent } from '../../catalogue/index.ts'
import { asKnown } from '../../history/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Read } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { type FieldError, invalid, known, notFound } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { CorrectiveAction, CorrectiveActionInput } from '../contract.ts'
import {
  type ActionRow,
  actionRow,
  causesOf,
  insertAction,
  insertActionCause,
  pageOfActions,
} from '../queries/actions.ts'
import { decisionById } from '../queries/decisions.ts'
import { actionWorked, workedWords } from '../rules/action-worked.ts'
import type { RatedJob } from '../rules/comeback-rate.ts'
import { jobsAsKnown } from './jobs-as-known.ts'

const METHOD =
  'Comebacks of the causes named, within the window, among jobs of the operations named that have been out for all of it; Wilson (1927) intervals; exact ratio with mid-P limits (Martin and Austin 1996).'

/**
 * What was changed so that a cause does not come back (O). `adds_look` puts the look on the operation in the same act. 422
 * for ids that name nothing, comebacks that are not confirmed or no longer stand, a day in the future.
 */
export function recordCorrectiveAction(ctx: Context, input: CorrectiveActionInput): CorrectiveAction {
  authorise(ctx)
  return write(ctx, tx => {
    const faults = [...decisionFaults(tx, input.decision_ids), ...dayFaults(ctx, input), ...supersedesFaults(tx, input)]
    if (faults.length > 0) throw invalid(...faults)
    const look = input.adds_look === undefined ? null : lookAdded(ctx, input.adds_look)
    const row = {
      ...newRecord(ctx),
      what: input.what,
      done_on: input.done_on,
      look_operation_id: look?.operationId ?? null,
      look_component_id: look?.componentId ?? null,
      supersedes_id: input.supersedes ?? null,
      reason: input.reason ?? null,
    }
    insertAction(tx, row)
    for (const decision_id of new Set(input.decision_ids)) {
      insertActionCause(tx, { ...newRecord(ctx), action_id: row.id, decision_id })
    }
    recordEvent(ctx, tx, { action: 'corrective-action.recorded', table: 'corrective_actions', id: row.id })
    return correctiveAction(ctx, row.id)
  })
}

/** Puts the look on the operation, unless every job of it asks for that already. */
function lookAdded(ctx: Context, { operation_id, component }: NonNullable<CorrectiveActionInput['adds_look']>) {
  const operation = known('/adds_look/operation_id', () => operationById(ctx, operation_id))
  const componentId = requireComponent(ctx.read, component, '/adds_look/component')
  const name = componentsByIds(ctx, [componentId])[0]!.name
  if (!asksForLook(operation, name)) askForLook(ctx, operation.id, operation.version, name)
  return { operationId: operation.id, componentId }
}

function decisionFaults(read: Read, ids: readonly string[]): FieldError[] {
  return ids.flatMap((id, at) => {
    const row = decisionById(read, id)
    const pointer = `/decision_ids/${at}`
    if (row === undefined) return [{ pointer, detail: 'There is no decision with this id.', code: 'unknown' }]
    if (row.superseded_by !== null)
      return [{ pointer, detail: 'This decision no longer stands; name the newer one.', code: 'superseded' }]
    if (row.decision === 'confirmed') return []
    return [{ pointer, detail: 'This was ruled out: there is no comeback to prevent.', code: 'not_confirmed' }]
  })
}

function dayFaults(ctx: Context, { done_on }: CorrectiveActionInput): FieldError[] {
  if (done_on <= asKnown(ctx).asOf) return []
  return [{ pointer: '/done_on', detail: 'That day is still to come. Note it once it is done.', code: 'in_future' }]
}

function supersedesFaults(read: Read, { supersedes, reason }: CorrectiveActionInput): FieldError[] {
  if (supersedes === undefined) {
    const detail = 'A reason is given for one that takes the place of another; name that in supersedes.'
    return reason === undefined ? [] : [{ pointer: '/reason', detail, code: 'does_not_fit' }]
  }
  const standing = actionRow(read, supersedes)
  const faults: FieldError[] = []
  if (standing === undefined)
    faults.push({ pointer: '/supersedes', detail: 'There is no action with this id.', code: 'unknown' })
  else if (standing.superseded_by !== null)
    faults.push({ pointer: '/supersedes', detail: 'A newer one stands in its place already.', code: 'superseded' })
  if (reason === undefined) faults.push({ pointer: '/reason', detail: 'Say why it is written anew.', code: 'missing' })
  return faults
}

/** With how it has worked, as known today. 404 when there is none. */
export function correctiveAction(ctx: Context, id: string): CorrectiveAction {
  const row = actionRow(ctx.read, id)
  if (row === undefined) throw notFound('corrective action', id)
  return told(ctx)(row)
}

/** Newest first, after an id; those that no longer stand among them. */
export function correctiveActions(ctx: Context, limit: number, after: string | null): CorrectiveAction[] {
  const rows = pageOfActions(ctx.read, limit, after)
  return rows.length === 0 ? [] : rows.map(told(ctx))
}

/** Those that stood on a day, newest first, with how they had worked as known then. */
export function correctiveActionsThen(ctx: Context, day: string): CorrectiveAction[] {
  const { before } = asKnown(ctx, day)
  const rows = pageOfActions(ctx.read, -1, null).filter(row => row.created_at < before)
  const superseded = new Set(rows.map(row => row.supersedes_id))
  const standing = rows.filter(row => !superseded.has(row.id))
  return standing.length === 0 ? [] : standing.map(told(ctx, day))
}

function told(ctx: Context, day?: string): (row: ActionRow) => CorrectiveAction {
  const known = asKnown(ctx, day)
  const jobs = jobsAsKnown(ctx, known)
  return row => toWire(ctx, row, jobs, known.asOf)
}

function toWire(ctx: Context, row: ActionRow, jobs: readonly RatedJob[], asOf: string): CorrectiveAction {
  const causes = causesOf(ctx.read, row.decision_ids)
  const adds = row.look_operation_id === null ? null : operationById(ctx, row.look_operation_id)
  const operations = namesIn([...causes.map(each => each.operation), adds?.name ?? null])
  const categories = namesIn(causes.map(each => each.category))
  const worked = actionWorked(jobs, {
    operations: operations.length === 0 ? null : new Set(operations),
    categories: categories.length === 0 ? null : new Set(categories),
    done_on: row.done_on,
    asOf,
  })
  const [component] = row.look_component_id === null ? [] : componentsByIds(ctx, [row.look_component_id])
  return {
    id: row.id,
    created_at: toInstant(row.created_at),
    created_by: row.created_by,
    decision_ids: row.decision_ids,
    what: row.what,
    done_on: row.done_on,
    ...(adds !== null &&
      component !== undefined && { adds_look: { operation_id: adds.id, component: component.name } }),
    ...(row.supersedes_id !== null && { supersedes: row.supersedes_id }),
    ...(row.reason !== null && { reason: row.reason }),
    ...(row.superseded_by !== null && { superseded_by: row.superseded_by }),
    operations,
    causes: categories,
    ...worked,
    sentence: workedWords(worked),
    method: METHOD,
  }
}

function namesIn(names: readonly (string | null)[]): string[] {
  return [...new Set(names.filter(name => name !== null))].sort()
}
