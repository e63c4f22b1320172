import { settingsOf } from '../../accounts/index.ts'
import {
  accessStepIds,
  type Component,
  componentsByIds,
  lookAtComponent,
  type Operation,
  operationById,
  requireOperation,
} from '../../catalogue/index.ts'
import { sumDecimals } from '../../core/decimal.ts'
import { accessClosure } from '../../core/strip-down/access-closure.ts'
import { ENOUGH_CASES } from '../../core/strip-down/few-cases.ts'
import { labour } from '../../core/strip-down/labour.ts'
import { whileOpen } from '../../core/strip-down/while-open.ts'
import { SEVERITIES, type Severity } from '../../core/vocabulary.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import { eachTogether, together } from '../../platform/together.ts'
import type { OpenLook, WhileOpen, WhileOpenInput } from '../contract.ts'
import { type LookCount, lookCounts } from '../queries/troubles.ts'
import { requireFamily, requireVariant } from './names.ts'

const METHOD =
  'Chance that it is bad: Beta(½ + bad, ½ + looked − bad), with few looks drawn to all families; later costs all the strip-down again. The maker’s manual and a look at what safety hangs on come before money.'

/**
 * What to look at while a vehicle of a family is open for some operations: each component that their strip-down exposes,
 * what a look costs, and what leaving it costs. 422 for names that the catalogue lacks and operations without hours.
 */
export function whileOpenFor(ctx: Context, { family, variant, operations }: WhileOpenInput): WhileOpen {
  const { family_id, variant_id, chosen } = together({
    family_id: () => requireFamily(ctx, family, '/family').id,
    variant_id: () => (variant === undefined ? null : requireVariant(ctx, variant, '/variant').id),
    chosen: () => eachTogether(operations, (name, place) => requireWithHours(ctx, name, `/operations/${place}`)),
  })
  const steps = accessStepIds(ctx)
  const jobs = chosen.map(({ id, hours, access_step_ids }, place) => ({ id: `${place} ${id}`, hours, access_step_ids }))
  const { hours_together, hours_apart, steps: union } = labour(jobs, steps)
  const open = new Set(union.map(step => step.id))
  const exposed = [...new Set(steps.filter(step => open.has(step.id)).flatMap(step => step.exposes))]
  const counts = new Map(
    lookCounts(ctx.read, { family_id, variant_id }, exposed).map(count => [count.component_id, count]),
  )
  /** The least strip-down that reaches a component among the steps that are open. */
  const accessHours = (componentId: string) =>
    Math.min(
      ...steps
        .filter(step => open.has(step.id) && step.exposes.includes(componentId))
        .map(step => sumDecimals(accessClosure(steps, [step.id]).map(needed => needed.hours))),
    )
  const looks = componentsByIds(ctx, exposed)
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .map(component => lookAt(ctx, component, counts.get(component.id), accessHours(component.id), chosen))
  return { as_of: asKnown(ctx).asOf, method: METHOD, hours_together, hours_apart, looks: looks.sort(bySurety) }
}

function requireWithHours(ctx: Context, name: string, pointer: string): Operation & { hours: number } {
  const operation = operationById(ctx, requireOperation(ctx.read, name, pointer))
  const { hours } = operation
  if (hours === undefined) {
    throw invalid({ pointer, detail: `The catalogue has no hours for “${operation.name}” yet.`, code: 'no_hours' })
  }
  return { ...operation, hours }
}

function lookAt(
  ctx: Context,
  component: Component,
  count: LookCount | undefined,
  accessHours: number,
  operations: readonly Operation[],
): OpenLook {
  const { labour_rate_minor, our_share_bp } = settingsOf(ctx)
  const planned = operations.flatMap(operation => operation.looks).find(look => look.component === component.name)
  const remedy =
    component.remedy_operation_id === undefined ? undefined : operationById(ctx, component.remedy_operation_id)
  const severity = worst(component.severity, planned?.severity)
  const { n_looked_all = 0, n_bad_all = 0 } = count ?? {}
  const { counted_on, n_looked, n_bad } = ownLooks(count)
  const { worth_it: _, ...result } = whileOpen({
    n_looked,
    n_bad,
    n_looked_all,
    n_bad_all,
    severity,
    minutes: planned?.minutes ?? lookAtComponent(component, []).minutes,
    part_minor: component.remedy_part_minor ?? 0,
    own_hours: remedy?.hours ?? 0,
    access_hours: accessHours,
    rate_minor: labour_rate_minor,
    our_share_bp,
  })
  return { component: component.name, n_looked, n_bad, severity, ...result, counted_on, n_looked_all, n_bad_all }
}

/** The variant's own looks where they are enough to stand for themselves, else those on the whole family. */
function ownLooks(count: LookCount | undefined): Pick<OpenLook, 'counted_on' | 'n_looked' | 'n_bad'> {
  const { n_looked = 0, n_bad = 0, n_looked_variant = 0, n_bad_variant = 0 } = count ?? {}
  return n_looked_variant >= ENOUGH_CASES
    ? { counted_on: 'variant', n_looked: n_looked_variant, n_bad: n_bad_variant }
    : { counted_on: 'family', n_looked, n_bad }
}

/** The graver of what the catalogue and the operation say: where either says safety, safety hangs on it. */
function worst(...said: (Severity | undefined)[]): Severity {
  return SEVERITIES.find(severity => said.includes(severity)) ?? 'breakdown'
}

/** What safety hangs on first, then what is asked for, then by what a look is worth. */
function bySurety(a: OpenLook, b: OpenLook): number {
  const rank = (look: OpenLook) => (look.severity === 'safety' ? 0 : look.asked_for ? 1 : 2)
  return rank(a) - rank(b) || b.net_minor - a.net_minor
}
