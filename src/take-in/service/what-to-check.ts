import { settingsOf } from '../../accounts/index.ts'
import { operationsByIds } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import { Problem } from '../../platform/problems.ts'
import { type FirstChecks, firstChecksFor, type WhileOpen, whileOpenFor } from '../../recurring-failures/index.ts'
import type { OrderPlan } from '../../work-orders/index.ts'

export interface ChecksOfSymptom {
  symptom: string
  checks: FirstChecks
}

/** What to check first for each symptom of a stay, by what was found before; symptoms without a known cause are left out. */
export function checksFor(ctx: Context, family: string, symptoms: readonly string[]): ChecksOfSymptom[] {
  const month = Number(localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone).slice(5, 7))
  return symptoms.flatMap(symptom => {
    const checks = unlessRefused(() => firstChecksFor(ctx, { symptom, family, season_month: month }))
    return checks === null || checks.checks.length === 0 ? [] : [{ symptom, checks }]
  })
}

/** What is worth a look while the vehicle is open for its standing jobs; null when their strip-down exposes nothing. */
export function whileOpenOf(ctx: Context, family: string, plan: OrderPlan): WhileOpen | null {
  const ids = plan.jobs.filter(job => job.voiding === null).flatMap(job => job.operation_id ?? [])
  const operations = operationsByIds(ctx, [...new Set(ids)])
    .filter(operation => operation.hours !== undefined)
    .map(operation => operation.name)
  if (operations.length === 0) return null
  const open = unlessRefused(() => whileOpenFor(ctx, { family, operations }))
  return open === null || open.looks.length === 0 ? null : open
}

/** A catalogue that cannot be ordered (checks that wait for each other) must not keep the desk from its work order. */
function unlessRefused<T>(work: () => T): T | null {
  try {
    return work()
  } catch (error) {
    if (error instanceof Problem && error.status === 422) return null
    throw error
  }
}
