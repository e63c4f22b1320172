import { requireComponent, requireFailureMode, requireOperation } from '../../catalogue/index.ts'
import { dayNumber } from '../../core/calendar.ts'
import { meanCumulativeFunction } from '../../core/statistics/recurrence/mean-cumulative-function.ts'
import { recurrenceUnit } from '../../core/statistics/recurrence/recurrence-unit.ts'
import type { LifeRecord } from '../../core/statistics/recurrence/vehicle-life.ts'
import { type AsKnown, asKnown, eachVehicleLife, type LifeNumbers, lifeNumbers } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { Recurrence, RecurrenceQuery } from '../contract.ts'
import { requireFamily } from './names.ts'

const METHOD =
  'Mean cumulative function with the robust variance of Lawless and Nadeau (1995) Technometrics 37:158-168; limits M ± 1.96 se.'

/** The curve with, for the drawing, the age at which each vehicle was last seen. */
export interface RecurrenceSeen {
  recurrence: Recurrence
  /** Ages in days or km. */
  ends: number[]
}

/**
 * How a failure, or an operation, recurs with the age of the vehicles: repairs per vehicle by age. 422 for a name that the
 * catalogue lacks.
 */
export function recurrence(ctx: Context, query: RecurrenceQuery): RecurrenceSeen {
  const clock = query.clock ?? 'days'
  const numbers = lifeNumbers(ctx)
  const isEvent = eventsAskedFor(ctx, query, numbers)
  const family = query.family === undefined ? null : requireFamily(ctx, query.family, '/family')
  const beside = query.compare_family === undefined ? null : requireFamily(ctx, query.compare_family, '/compare_family')
  const known = asKnown(ctx, query.as_of)
  const curve = (familyId: string | null) => curveOf(ctx, { numbers, known, clock, isEvent, familyId })
  const { ends, ...own } = curve(family?.id ?? null)
  const compared = beside === null ? null : curve(beside.id)
  return {
    ends,
    recurrence: {
      as_of: known.asOf,
      method: METHOD,
      clock,
      ...own,
      ...(beside !== null &&
        compared !== null && {
          compare: { family: beside.name, units: compared.units, events: compared.events, points: compared.points },
        }),
    },
  }
}

interface Asked {
  numbers: LifeNumbers
  known: AsKnown
  clock: 'days' | 'distance'
  isEvent: (record: LifeRecord) => boolean
  familyId: string | null
}

function curveOf(ctx: Context, { numbers, known, clock, isEvent, familyId }: Asked) {
  const asOf = dayNumber(known.asOf)
  const units = []
  for (const life of eachVehicleLife(ctx, numbers, known, familyId)) {
    const unit = recurrenceUnit(life, clock, asOf, isEvent)
    if (unit !== null) units.push(unit)
  }
  return { ...meanCumulativeFunction(units), ends: units.map(unit => unit.end) }
}

/** Which records are the events: the failures of a component, with a mode or none or any, or the work of an operation. */
function eventsAskedFor(ctx: Context, query: RecurrenceQuery, numbers: LifeNumbers): (record: LifeRecord) => boolean {
  const { component, failure_mode, operation } = query
  if (operation !== undefined) {
    if (component !== undefined || failure_mode !== undefined) {
      const pointer = component === undefined ? '/failure_mode' : '/component'
      throw invalid({ pointer, detail: 'Ask for an operation or for a failure, not for both.', code: 'not_both' })
    }
    const wanted = numbers.operationOf(requireOperation(ctx.read, operation, '/operation'))
    return record => record.kind === 'work' && record.operation === wanted
  }
  if (component === undefined) {
    throw invalid({ pointer: '/component', detail: 'Say which component, or which operation.', code: 'missing' })
  }
  const componentId = requireComponent(ctx.read, component, '/component')
  if (failure_mode === undefined) {
    return record => record.kind === 'failure' && numbers.component(record.failure).id === componentId
  }
  const modeId = failure_mode === '' ? null : requireFailureMode(ctx.read, failure_mode, '/failure_mode')
  const wanted = numbers.failureOf(componentId, modeId)
  return record => record.kind === 'failure' && record.failure === wanted
}
