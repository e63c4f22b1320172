import { settingsOf } from '../../accounts/index.ts'
import { operationsByIds, symptomNames } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { checksOfOrder, type Finding, findingsOnJobs, lookResults } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { Problem } from '../../platform/problems.ts'
import {
  type FirstChecks,
  firstChecksFor,
  type SymptomToCheck,
  type WhileOpen,
  whileOpenFor,
} from '../../recurring-failures/index.ts'
import { type Vehicle, vehicleById } from '../../vehicles/index.ts'
import type { OrderPlan } from '../../work-orders/index.ts'

export interface ChecksOfSymptom {
  symptom: string
  checks: FirstChecks
}

/** The newest outcome of a component that somebody has looked at during the stay; `at` in milliseconds. */
export interface Checked {
  component: string
  fine: boolean
  at: number
  created_by: string | null
}

/** What to check first on a stay, what is worth a look while it is open, and what was looked at so far. */
export interface WhatToCheck {
  /** By symptom, until its cause is found; symptoms without a known cause are left out. */
  checks: ChecksOfSymptom[]
  /** Null when the strip-down of its jobs exposes nothing. */
  while_open: WhileOpen | null
  checked: Checked[]
}

/** Nothing once the vehicle has left. */
export function whatToCheck(ctx: Context, plan: OrderPlan): WhatToCheck {
  if (plan.hand_back !== null) return { checks: [], while_open: null, checked: [] }
  const vehicle = vehicleById(ctx, plan.order.vehicle_id)
  const checked = checkedSoFar(ctx, plan)
  return {
    checks: checksOfStay(ctx, plan, vehicle.family, checked),
    while_open: whileOpenOf(ctx, plan, vehicle),
    checked,
  }
}

/** Components that its strip-down exposes, on which safety hangs, and at which nobody has looked: no look, check or finding. */
export function safetyNotLookedAt(ctx: Context, plan: OrderPlan): string[] {
  const exposed = whileOpenOf(ctx, plan, vehicleById(ctx, plan.order.vehicle_id))?.looks ?? []
  const ids = plan.jobs.map(job => job.id)
  // a look of a job's own blocks until it is done
  const looked = [...plan.jobs.flatMap(job => job.looks), ...checkedSoFar(ctx, plan), ...findingsOnJobs(ctx, ids)]
  const seen = new Set(looked.map(each => each.component))
  return exposed.filter(look => look.severity === 'safety' && !seen.has(look.component)).map(look => look.component)
}

/** What is known of a stay so far. */
type SoFar = Pick<SymptomToCheck, 'found_fine' | 'open_step_ids'>

/** What to check first for each symptom, by what was found before; symptoms without a known cause are left out. */
export function checksFor(
  ctx: Context,
  family: string,
  symptoms: readonly string[],
  soFar: SoFar = {},
): ChecksOfSymptom[] {
  const season_month = Number(localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone).slice(5, 7))
  return symptoms.flatMap(symptom => {
    const checks = unlessRefused(() => firstChecksFor(ctx, { symptom, family, season_month, ...soFar }))
    return checks === null || checks.checks.length === 0 ? [] : [{ symptom, checks }]
  })
}

/** Of a stay: without what was found fine, through what is open already, and until the cause is found. */
function checksOfStay(ctx: Context, plan: OrderPlan, family: string, checked: readonly Checked[]): ChecksOfSymptom[] {
  const found = findingsOnJobs(
    ctx,
    plan.jobs.map(job => job.id),
  )
  const soFar = {
    found_fine: checked.filter(each => each.fine).map(each => each.component),
    open_step_ids: plan.steps.filter(step => step.is_open).map(step => step.access_step_id),
  }
  const symptoms = symptomNames(ctx, plan.order.symptom_ids)
  return checksFor(ctx, family, symptoms, soFar).filter(({ symptom, checks }) => !isFound(symptom, checks, found))
}

/** A finding of the stay names the symptom, or is of one of its causes. */
function isFound(symptom: string, { checks }: FirstChecks, found: readonly Finding[]): boolean {
  return found.some(
    finding => finding.symptom === symptom || checks.some(check => check.component === finding.component),
  )
}

/** Looks of its jobs with an outcome, and checks beside them: of each component the newest. */
function checkedSoFar(ctx: Context, plan: OrderPlan): Checked[] {
  const looks = plan.jobs.flatMap(job => job.looks)
  const results = lookResults(
    ctx,
    looks.map(look => look.id),
  )
  const looked = looks.flatMap(({ id, component }): Checked[] => {
    const result = results.get(id)
    if (result === undefined || result.skipped_reason !== null) return []
    const { created_at, created_by, finding_id } = result
    return [{ component, fine: finding_id === null, at: created_at, created_by }]
  })
  const beside = checksOfOrder(ctx, plan.order.id).map(
    ({ component, fine, created_at, created_by }): Checked => ({
      ...{ component, fine, created_by },
      at: Date.parse(created_at),
    }),
  )
  const newest = new Map<string, Checked>()
  for (const each of [...looked, ...beside].sort((one, other) => one.at - other.at)) newest.set(each.component, each)
  return [...newest.values()]
}

function whileOpenOf(ctx: Context, plan: OrderPlan, { family, variant }: Vehicle): WhileOpen | null {
  const ids = plan.jobs.filter(job => job.voiding === null).flatMap(job => job.operation_id ?? [])
  const operations = operationsByIds(ctx, [...new Set(ids)])
    .filter(operation => operation.hours !== undefined)
    .map(operation => operation.name)
  if (operations.length === 0) return null
  const open = unlessRefused(() => whileOpenFor(ctx, { family, operations, ...(variant !== undefined && { variant }) }))
  return open === null || open.looks.length === 0 ? null : open
}

/** A catalogue that cannot be ordered (checks that wait for each other) must not keep anybody from a work order. */
function unlessRefused<T>(work: () => T): T | null {
  try {
    return work()
  } catch (error) {
    if (error instanceof Problem && error.status === 422) return null
    throw error
  }
}
