import { settingsOf } from '../../accounts/index.ts'
import { addDays, dayNumber, localDateOf, startOfDayMs } from '../../core/calendar.ts'
import type { RegisteredLife } from '../../core/statistics/recurrence/recurrence-unit.ts'
import type { LifeRecord } from '../../core/statistics/recurrence/vehicle-life.ts'
import type { Context } from '../../platform/context.ts'
import {
  type LifeEventTuple,
  type LifeVehicleRow,
  lifeEventReader,
  lifeNames,
  lifeVehicles,
  type VehicleGroup,
} from '../queries.ts'

interface Named {
  id: string
  name: string
}

/** The numbers that stand for names in core, and back. A failure is a component with its mode, or with none. */
export interface LifeNumbers {
  families: readonly Named[]
  operations: readonly Named[]
  components: readonly Named[]
  failure_modes: readonly Named[]
  familyOf(id: string): number
  operationOf(id: string): number
  failureOf(componentId: string, modeId: string | null): number
  component(failure: number): Named
  failureMode(failure: number): Named | null
}

/** Numbers follow the names in their order, so that ties in an answer come by name. */
export function lifeNumbers(ctx: Pick<Context, 'read'>): LifeNumbers {
  const names = lifeNames(ctx.read)
  const number = (list: readonly Named[]) => {
    const numbers = new Map(list.map(({ id }, place) => [id, place]))
    return (id: string) => numbers.get(id)!
  }
  const [familyOf, operationOf] = [number(names.families), number(names.operations)]
  const [componentOf, modeOf] = [number(names.components), number(names.failure_modes)]
  const modes = names.failure_modes.length + 1
  return {
    ...names,
    familyOf,
    operationOf,
    failureOf: (componentId, modeId) => componentOf(componentId) * modes + (modeId === null ? 0 : modeOf(modeId) + 1),
    component: failure => names.components[Math.floor(failure / modes)]!,
    failureMode: failure => names.failure_modes[(failure % modes) - 1] ?? null,
  }
}

/** What an analysis sees: records dated to `asOf`, of those of our own what was known `before` an instant (ms). */
export interface AsKnown {
  asOf: string
  before: number
}

const LAST_DAY = '9999-12-31'

/** What was known at the end of a day in the workshop's zone; without one, of today. */
export function asKnown(ctx: Pick<Context, 'read' | 'clock'>, day?: string): AsKnown {
  const { time_zone } = settingsOf(ctx)
  const asOf = day ?? localDateOf(ctx.clock.now(), time_zone)
  return { asOf, before: asOf === LAST_DAY ? Number.MAX_SAFE_INTEGER : startOfDayMs(addDays(asOf, 1), time_zone) }
}

/**
 * The lives of all vehicles, or of a group of them, one at a time, ordered by vehicle id. Records later than `asOf`, and facts of
 * our own that were written down later, are not seen.
 */
export function* eachVehicleLife(
  ctx: Pick<Context, 'store' | 'read'>,
  numbers: LifeNumbers,
  known: AsKnown,
  group: VehicleGroup = {},
): Generator<RegisteredLife> {
  const eventsOf = lifeEventReader(ctx.store, known)
  for (const vehicle of lifeVehicles(ctx.read, group)) yield lifeOf(vehicle, eventsOf(vehicle.id), numbers)
}

function lifeOf(vehicle: LifeVehicleRow, events: readonly LifeEventTuple[], numbers: LifeNumbers): RegisteredLife {
  let registered = vehicle.first_registered_on
  const records: LifeRecord[] = []
  for (const event of events) {
    records.push(recordOf(event, numbers))
    const told = event[9]
    if (told !== null && (registered === null || told < registered)) registered = told
  }
  return {
    vehicle: vehicle.id,
    family: numbers.familyOf(vehicle.family_id),
    firstRegisteredDay: registered === null ? null : dayNumber(registered),
    records,
  }
}

function recordOf(event: LifeEventTuple, numbers: LifeNumbers): LifeRecord {
  const [date, km, kind, by, operationId, componentId, modeId, labour, parts, , replaced] = event
  const day = date === null ? null : dayNumber(date)
  if (kind === 'work') return { kind, day, km, operation: numbers.operationOf(operationId!), by: by ?? 'unknown' }
  if (day === null) throw new Error('Only work may be undated')
  if (kind === 'failure') {
    const cost_minor = labour === null && parts === null ? null : (labour ?? 0) + (parts ?? 0)
    return { kind, day, km, failure: numbers.failureOf(componentId!, modeId), cost_minor }
  }
  return kind === 'seen' ? { kind, day, km, display_replaced: replaced === 1 } : { kind, day, km }
}
