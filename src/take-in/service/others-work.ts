import {
  allComponents,
  type Component,
  componentNames,
  operationOfName,
  stepsWithAllNeeded,
} from '../../catalogue/index.ts'
import { findingsOn, priorWorksOf } from '../../findings/index.ts'
import { lifeOfVehicle } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { vehicleById } from '../../vehicles/index.ts'
import type { FlagFacts } from '../rules/flags.ts'

export type OthersWork = FlagFacts['others'][number]

/** While no symptom is known, everything of others is worth a word, but not a whole history of it. */
const NEWEST = 4

/**
 * Work on the vehicle that was not ours, newest first, with the components it was at that can cause one of the symptoms: by
 * the catalogue, or by an earlier finding on this vehicle.
 *
 * @param symptoms null while nobody has said what is wrong: then the newest few.
 */
export function othersWorkOn(ctx: Context, vehicleId: string, symptoms: readonly string[] | null): OthersWork[] {
  const exactness = new Map(priorWorksOf(ctx, vehicleId).map(work => [work.id, work.exactness]))
  const works = lifeOfVehicle(ctx, vehicleById(ctx, vehicleId))
    .toReversed()
    .flatMap((event): Omit<OthersWork, 'may_cause'>[] => {
      const { operation, by, date, note, source, record_id } = event
      if (event.event !== 'work' || operation === null || by === null || by === 'us') return []
      const known = exactness.get(record_id) ?? (date === null ? 'unknown' : 'day')
      return [{ operation, by, on: date, exactness: known, evidence: source === 'prior_works' ? note : null }]
    })
  if (symptoms === null) return works.slice(0, NEWEST).map(work => ({ ...work, may_cause: null }))
  if (works.length === 0 || symptoms.length === 0) return []
  const causes = causesOf(ctx, vehicleId, symptoms)
  return works.map(work => {
    const at = componentsAt(ctx, work.operation)
    return { ...work, may_cause: causes.filter(cause => at.has(cause.component)) }
  })
}

interface Cause {
  component: string
  symptom: string
}

function causesOf(ctx: Context, vehicleId: string, symptoms: readonly string[]): Cause[] {
  const inCatalogue = allComponents(ctx).flatMap(({ name, causes }) =>
    causes.filter(symptom => symptoms.includes(symptom)).map(symptom => ({ component: name, symptom })),
  )
  const found = findingsOn(ctx, vehicleId).flatMap(({ component, symptom }) =>
    symptom !== undefined && symptoms.includes(symptom) ? [{ component, symptom }] : [],
  )
  return [...inCatalogue, ...found.filter(each => !inCatalogue.some(cause => cause.component === each.component))]
}

/** The names of the components that an operation is at: exposed or disturbed on the way, looked at, or put right by it. */
function componentsAt(ctx: Context, operationName: string): Set<string> {
  const operation = operationOfName(ctx, operationName)
  if (operation === undefined) return new Set()
  const steps = stepsWithAllNeeded(ctx, operation.access_step_ids)
  const touched = componentNames(ctx, [...new Set(steps.flatMap(step => [...step.exposes, ...step.disturbs]))])
  const remedies = (component: Component) => component.remedy_operation_id === operation.id
  const put = allComponents(ctx)
    .filter(remedies)
    .map(component => component.name)
  return new Set([...touched, ...operation.looks.map(look => look.component), ...put])
}
