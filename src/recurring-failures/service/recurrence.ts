import { requireComponent, requireFailureMode, requireOperation } from '../../catalogue/index.ts'
import { dayNumber } from '../../core/calendar.ts'
import {
  type MeanCumulativeFunction,
  meanCumulativeFunction,
  type RecurrenceUnit,
} from '../../core/statistics/recurrence/mean-cumulative-function.ts'
import { recurrenceDifference } from '../../core/statistics/recurrence/recurrence-difference.ts'
import { recurrenceUnit } from '../../core/statistics/recurrence/recurrence-unit.ts'
import type { LifeRecord } from '../../core/statistics/recurrence/vehicle-life.ts'
import { type WellWatched, wellWatched } from '../../core/statistics/recurrence/well-watched.ts'
import { type AsKnown, asKnown, eachVehicleLife, type LifeNumbers, lifeNumbers } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import { together } from '../../platform/together.ts'
import type { Recurrence, RecurrenceQuery } from '../contract.ts'
import { ENOUGH_WATCHED } from '../rules/enough-watched.ts'
import { requireFamily, requireVariant } from './names.ts'

const METHOD =
  'Mean cumulative function with the robust variance of Lawless and Nadeau (1995) Technometrics 37:158-168; limits M ± 1.96 se. The difference of two groups without a common vehicle: variances added up.'

/** The curve with, for the drawing, the age at which each vehicle was last seen. */
export interface RecurrenceSeen {
  recurrence: Recurrence
  /** Ages in days or km. */
  ends: number[]
  /** The least age at which any of them was watched. */
  begins: number
  /** Until when any vehicle of the other group was watched; null when there is none. */
  compare_end: number | null
  /** The ages at which the curve rests on enough vehicles; null where there are none. */
  well: WellWatched | null
  compare_well: WellWatched | null
}

/** One of the groups that are looked at, by id: all vehicles where it names neither. */
interface Group {
  family: { id: string; name: string } | undefined
  variant: { id: string; name: string } | undefined
}

/**
 * How a failure, or an operation, recurs with the age of the vehicles: repairs per vehicle by age, in one group or two. 422
 * for a name that the catalogue lacks.
 */
export function recurrence(ctx: Context, query: RecurrenceQuery): RecurrenceSeen {
  const clock = query.clock ?? 'days'
  const numbers = lifeNumbers(ctx)
  const { isEvent, family, variant, compare_family, compare_variant } = together({
    isEvent: () => eventsAskedFor(ctx, query, numbers),
    family: () => ifNamed(query.family, name => requireFamily(ctx, name, '/family')),
    variant: () => ifNamed(query.variant, name => requireVariant(ctx, name, '/variant')),
    compare_family: () => ifNamed(query.compare_family, name => requireFamily(ctx, name, '/compare_family')),
    compare_variant: () => ifNamed(query.compare_variant, name => requireVariant(ctx, name, '/compare_variant')),
  })
  const asked = { numbers, known: asKnown(ctx, query.as_of), clock, isEvent }
  const group = { family, variant }
  const { watched: ownUnits, ...own } = curveOf(ctx, asked, group)
  const ends = ownUnits.map(unit => unit.end)
  const beside = besideIt(group, compare_family, compare_variant)
  const other = beside === null ? null : curveOf(ctx, asked, beside)
  return {
    ends,
    begins: ownUnits.reduce((least, unit) => Math.min(least, unit.entry), Number.MAX_SAFE_INTEGER),
    well: wellWatched(ownUnits, ENOUGH_WATCHED),
    compare_well: other === null ? null : wellWatched(other.watched, ENOUGH_WATCHED),
    compare_end: other === null ? null : other.watched.reduce((last, unit) => Math.max(last, unit.end), 0),
    recurrence: {
      as_of: asked.known.asOf,
      method: METHOD,
      clock,
      ...own,
      ...(beside !== null && other !== null && compared(beside, other)),
      ...(beside !== null &&
        other !== null &&
        areApart(group, beside) && { difference: recurrenceDifference(ownUnits, other.watched) }),
    },
  }
}

function ifNamed<T>(name: string | undefined, find: (name: string) => T): T | undefined {
  return name === undefined ? undefined : find(name)
}

/** The other group: where only its variant is named it is one of the same family. */
function besideIt(group: Group, family: Group['family'], variant: Group['variant']): Group | null {
  if (family === undefined && variant === undefined) return null
  return { family: family ?? group.family, variant }
}

/** Whether no vehicle can be in both: only then are their variances their own. */
function areApart(one: Group, other: Group): boolean {
  const differ = (key: keyof Group) =>
    one[key] !== undefined && other[key] !== undefined && one[key]?.id !== other[key]?.id
  return differ('family') || differ('variant')
}

function compared({ family, variant }: Group, { units, events, points }: Curve) {
  return {
    compare: {
      ...(family !== undefined && { family: family.name }),
      ...(variant !== undefined && { variant: variant.name }),
      ...{ units, events, points },
    },
  }
}

interface Curve extends MeanCumulativeFunction {
  watched: RecurrenceUnit[]
}

interface Asked {
  numbers: LifeNumbers
  known: AsKnown
  clock: 'days' | 'distance'
  isEvent: (record: LifeRecord) => boolean
}

function curveOf(ctx: Context, { numbers, known, clock, isEvent }: Asked, { family, variant }: Group): Curve {
  const asOf = dayNumber(known.asOf)
  const watched: RecurrenceUnit[] = []
  for (const life of eachVehicleLife(ctx, numbers, known, { family_id: family?.id, variant_id: variant?.id })) {
    const unit = recurrenceUnit(life, clock, asOf, isEvent)
    if (unit !== null) watched.push(unit)
  }
  return { ...meanCumulativeFunction(watched), watched }
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
  const { componentId, modeId } = together({
    componentId: () => requireComponent(ctx.read, component, '/component'),
    modeId: () => (failure_mode ? requireFailureMode(ctx.read, failure_mode, '/failure_mode') : null),
  })
  if (failure_mode === undefined) {
    return record => record.kind === 'failure' && numbers.component(record.failure).id === componentId
  }
  const wanted = numbers.failureOf(componentId, modeId)
  return record => record.kind === 'failure' && record.failure === wanted
}
