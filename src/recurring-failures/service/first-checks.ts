import { accessStepIds, componentsByIds, requireComponent, requireSymptom } from '../../catalogue/index.ts'
import { type CauseCounts, chancesLeft, checkChances } from '../../core/strip-down/check-chances.ts'
import { type Check, firstChecks } from '../../core/strip-down/first-checks.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import { eachTogether, together } from '../../platform/together.ts'
import type { ChecksToOrder, FirstChecks, SymptomToCheck } from '../contract.ts'
import { type CauseCount, causeCounts, causesInCatalogue } from '../queries/troubles.ts'
import { badChecks } from '../rules/checks.ts'
import { requireFamily } from './names.ts'

const METHOD =
  'Least expected time: chance over minutes (Kadane and Simon 1977), through the strip-down steps after Horn (1972) and Sidney (1975); chances from counts, shrunk level by level.'

/** A check of which nobody has said how long it takes. */
const MINUTES_UNSAID = 15

/** Which check first, by the caller's own chances. 422 where they cannot be ordered. */
export function orderChecks(ctx: Context, { checks, steps }: ChecksToOrder): FirstChecks {
  const bad = badChecks(checks, steps)
  if (bad.length > 0) throw invalid(...bad)
  const result = firstChecks(checks, steps)
  return {
    as_of: asKnown(ctx).asOf,
    method: METHOD,
    ...result,
    checks: checks.map(({ id, chance, minutes }) => ({ id, chance, n: null, of: null, minutes })),
    sequence: result.sequence.map(item => ({ ...item, name: item.id })),
  }
}

/**
 * Which check first for a symptom on a family: chances from what was found before, through the strip-down that the checks
 * are behind. 422 for names that the catalogue lacks.
 */
export function firstChecksFor(ctx: Context, input: SymptomToCheck): FirstChecks {
  const { symptom, family, season_month, found_fine = [], open_step_ids = [] } = input
  const everyStep = accessStepIds(ctx)
  const { symptomId, familyId, fine } = together({
    symptomId: () => requireSymptom(ctx.read, symptom, '/symptom'),
    familyId: () => requireFamily(ctx, family, '/family').id,
    fine: () => eachTogether(found_fine, (name, at) => requireComponent(ctx.read, name, `/found_fine/${at}`)),
    open: () => eachTogether(open_step_ids, (id, at) => requireStep(everyStep, id, `/open_step_ids/${at}`)),
  })
  const isClosed = (stepId: string) => !open_step_ids.includes(stepId)
  const known = asKnown(ctx)
  const counts = causeCounts(ctx.read, symptomId, known)
  const causes = [...new Set([...causesInCatalogue(ctx.read, symptomId), ...counts.map(count => count.component_id)])]
  const knownCauses = componentsByIds(ctx, causes).sort((a, b) => (a.name < b.name ? -1 : 1))
  const levels = levelsOf(counts, familyId, season_month)
  const all = checkChances(
    knownCauses.map(component => component.id),
    levels,
  )
  const chances = chancesLeft(all, new Set(fine))
  const components = knownCauses.filter(component => !fine.includes(component.id))
  const names = new Map(components.map(({ name, id }) => [name, id]))
  const of = Object.values(levels.at(-1) ?? {}).reduce((sum, count) => sum + count, 0)
  const checks = components.map(
    (component, place): Check => ({
      id: component.id,
      chance: chances[place]!.chance,
      minutes: component.check_minutes ?? MINUTES_UNSAID,
      behind: component.access_step_ids.filter(isClosed),
      makes_safe: component.makes_safe,
      not_before: component.not_before.flatMap(other => names.get(other) ?? []),
    }),
  )
  const steps = everyStep.filter(step => isClosed(step.id))
  const result = firstChecks(
    checks,
    steps.map(({ id, hours, needs }) => ({ id, minutes: minutesOf(hours), needs: needs.filter(isClosed) })),
  )
  const called = new Map([...components, ...steps].map(({ id, name }) => [id, name]))
  return {
    as_of: known.asOf,
    method: METHOD,
    ...result,
    checks: checks.map(({ id, chance, minutes }, place) => {
      const { name, caution, makes_safe } = components[place]!
      const n = chances[place]!.n.at(-1) ?? 0
      return { id, chance, n, of, minutes, component: name, makes_safe, ...(caution !== undefined && { caution }) }
    }),
    sequence: result.sequence.map(item => ({ ...item, name: called.get(item.id) ?? item.id })),
  }
}

function requireStep(steps: readonly { id: string }[], id: string, pointer: string): void {
  if (steps.some(step => step.id === id)) return
  throw invalid({ pointer, detail: `There is no access step with the id ${id}.`, code: 'unknown' })
}

/** Hours were typed as decimals: 1.1 of them are 66 minutes, not a rounding error more. */
function minutesOf(hours: number): number {
  return Number((hours * 60).toFixed(6))
}

/** From the general to the particular: the symptom, on the family, in the month and its two neighbours. */
function levelsOf(counts: readonly CauseCount[], familyId: string, month: number | undefined): CauseCounts[] {
  const onFamily = counts.filter(count => count.family_id === familyId)
  const season = month === undefined ? [] : [(month + 10) % 12, month - 1, month % 12].map(place => place + 1)
  return [
    counts,
    onFamily,
    ...(month === undefined ? [] : [onFamily.filter(count => season.includes(count.month))]),
  ].map(sums)
}

function sums(counts: readonly CauseCount[]): CauseCounts {
  const total: Record<string, number> = {}
  for (const { component_id, count } of counts) total[component_id] = (total[component_id] ?? 0) + count
  return total
}
