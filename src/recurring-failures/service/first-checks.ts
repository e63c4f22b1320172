import { accessStepIds, componentsByIds, requireSymptom } from '../../catalogue/index.ts'
import { type CauseCounts, checkChances } from '../../core/strip-down/check-chances.ts'
import { type Check, type CheckStep, firstChecks } from '../../core/strip-down/first-checks.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
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
  const result = ordered(checks, steps)
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
export function firstChecksFor(ctx: Context, { symptom, family, season_month }: SymptomToCheck): FirstChecks {
  const symptomId = requireSymptom(ctx.read, symptom, '/symptom')
  const familyId = requireFamily(ctx, family, '/family').id
  const known = asKnown(ctx)
  const counts = causeCounts(ctx.read, symptomId, known)
  const causes = [...new Set([...causesInCatalogue(ctx.read, symptomId), ...counts.map(count => count.component_id)])]
  const components = componentsByIds(ctx, causes).sort((a, b) => (a.name < b.name ? -1 : 1))
  const names = new Map(components.map(({ name, id }) => [name, id]))
  const levels = levelsOf(counts, familyId, season_month)
  const chances = checkChances(
    components.map(component => component.id),
    levels,
  )
  const of = Object.values(levels.at(-1) ?? {}).reduce((sum, count) => sum + count, 0)
  const checks = components.map(
    (component, place): Check => ({
      id: component.id,
      chance: chances[place]!.chance,
      minutes: component.check_minutes ?? MINUTES_UNSAID,
      behind: component.access_step_ids,
      makes_safe: component.makes_safe,
      not_before: component.not_before.flatMap(other => names.get(other) ?? []),
    }),
  )
  const steps = accessStepIds(ctx)
  const result = ordered(
    checks,
    steps.map(({ id, hours, needs }) => ({ id, minutes: minutesOf(hours), needs })),
  )
  const called = new Map([...components, ...steps].map(({ id, name }) => [id, name]))
  return {
    as_of: known.asOf,
    method: METHOD,
    ...result,
    checks: checks.map(({ id, chance, minutes }, place) => {
      const { name, caution } = components[place]!
      const n = chances[place]!.n.at(-1) ?? 0
      return { id, chance, n, of, minutes, component: name, ...(caution !== undefined && { caution }) }
    }),
    sequence: result.sequence.map(item => ({ ...item, name: called.get(item.id) ?? item.id })),
  }
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

/** Core refuses what cannot be ordered, such as checks that wait for each other in a circle. */
function ordered(checks: readonly Check[], steps: readonly CheckStep[]) {
  try {
    return firstChecks(checks, steps)
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
    const detail = `${error.message.replace(/^\w+ requires/, 'This needs')}.`
    throw invalid({ pointer: '/checks', detail, code: 'cannot_be_ordered' })
  }
}
