import { settingsOf } from '../../accounts/index.ts'
import { componentNames, operationNames } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Exactness } from '../../core/vocabulary.ts'
import { findingsOn, type LeftForLater, leftForLaterOn, priorWorksOf } from '../../findings/index.ts'
import { type HistoryEvent, lifeOfVehicle } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { oftenPairs } from '../../recurring-failures/index.ts'
import {
  type Customer,
  customerById,
  keepersOfVehicle,
  readingsOfVehicle,
  type Vehicle,
  vehicleById,
} from '../../vehicles/index.ts'
import {
  type JobInHistory,
  jobsOfVehicle,
  jointsOfVehicle,
  orderOfJob,
  ordersInHouseOf,
  type WorkOrderRecord,
} from '../../work-orders/index.ts'
import { type DrivenLine, drivenLine } from '../rules/driven.ts'
import { isRunning } from '../rules/flags.ts'
import { type Arc, arcsOf, type EventToTell, type ToldEvent, toldLife } from '../rules/life.ts'
import { type Usage, usageOf } from '../rules/usage.ts'
import { cameBackAs, comebacksOfVehicle, type VehicleComebacks } from './vehicle-comebacks.ts'

/** An event of a vehicle's life as its page tells it. */
export interface VehicleEvent extends EventToTell {
  failure_mode: string | null
  symptom: string | null
  note: string | null
  /** How exactly its date is known. */
  exactness: Exactness
  /** The stay it belongs to. */
  order_id: string | null
  is_finding: boolean
}

/** Everything that the page of a vehicle says. Distances in km. */
export interface VehicleSheet {
  vehicle: Vehicle
  keeper: Customer | null
  /** When it became the keeper's, in milliseconds. */
  keeper_since: number | null
  /** Oldest first; what nobody can date before everything. */
  life: ToldEvent<VehicleEvent>[]
  arcs: Arc[]
  comebacks: VehicleComebacks
  usage: Usage | null
  /** Where on its line of distance it stood on any day. */
  driven: DrivenLine
  /** The newest distance that anybody read. */
  odometer: { on: string; distance_km: number } | null
  odometer_oddities: string[]
  /** Jobs whose warranty still runs. */
  warranties: JobInHistory[]
  left_for_later: LeftForLater[]
  here: WorkOrderRecord[]
  order_numbers: Map<string, string>
  /** What was fastened in each job. */
  joints: ReturnType<typeof jointsOfVehicle>
}

/** 404 for an unknown vehicle. */
export function vehicleSheet(ctx: Context, vehicleId: string): VehicleSheet {
  const vehicle = vehicleById(ctx, vehicleId)
  const jobs = jobsOfVehicle(ctx, vehicleId)
  const history = lifeOfVehicle(ctx, vehicle)
  const { readings, newest } = readingsOfVehicle(ctx, vehicleId)
  const events = eventsOf(ctx, vehicle, history, jobs)
  const life = toldLife(events)
  const comebacks = comebacksOfVehicle(ctx, vehicleId)
  const { time_zone } = settingsOf(ctx)
  const { usage, odometer, all } = usageFrom(history, readings)
  const inService = history.find(event => event.event === 'in_service' && event.distance === null)
  const [since] = keepersOfVehicle(ctx, vehicleId)
  const on = localDateOf(ctx.clock.now(), time_zone)
  return {
    vehicle,
    keeper: vehicle.keeper_id === undefined ? null : customerById(ctx, vehicle.keeper_id),
    keeper_since: since === undefined ? null : Date.parse(since.created_at),
    life,
    arcs: arcsOf(life, oftenAfter(ctx), cameBackAs(comebacks, events, jobs, time_zone)),
    comebacks,
    usage,
    driven: drivenLine(all, inService?.date ?? null),
    odometer,
    odometer_oddities: newest?.warnings.map(warning => warning.detail) ?? [],
    warranties: jobs.filter(job => isRunning(job.warranty, { on, odometer_km: odometer?.distance_km ?? null })),
    left_for_later: leftForLaterOn(ctx, vehicleId).filter(left => left.settled_by_job_id === undefined),
    here: ordersInHouseOf(ctx, vehicleId),
    order_numbers: new Map(jobs.map(job => [job.work_order_id, job.work_order_number])),
    joints: jointsOfVehicle(ctx, vehicleId),
  }
}

/** How a vehicle is driven, by everything that was ever read of it. */
export function usageOfVehicle(ctx: Context, vehicle: Vehicle) {
  return usageFrom(lifeOfVehicle(ctx, vehicle), readingsOfVehicle(ctx, vehicle.id).readings)
}

function usageFrom(history: readonly HistoryEvent[], own: ReturnType<typeof readingsOfVehicle>['readings']) {
  const imported = history.flatMap(({ source, date, distance }) =>
    source === 'history_events' && date !== null && distance !== null
      ? [{ on: date, distance_km: distance, display_replaced: false }]
      : [],
  )
  const readings = [...imported, ...own].sort((one, other) => one.on.localeCompare(other.on))
  const newest = readings.at(-1)
  return {
    all: readings,
    usage: usageOf(readings),
    odometer: newest === undefined ? null : { on: newest.on, distance_km: newest.distance_km },
  }
}

function eventsOf(
  ctx: Context,
  vehicle: Vehicle,
  history: readonly HistoryEvent[],
  jobs: readonly JobInHistory[],
): VehicleEvent[] {
  const vehicleId = vehicle.id
  const findings = new Map(findingsOn(ctx, vehicleId).map(finding => [finding.id, finding]))
  const exactness = new Map(priorWorksOf(ctx, vehicleId).map(work => [work.id, work.exactness]))
  const stayOfJob = new Map(jobs.map(job => [job.id, job.work_order_id]))
  const told = history.map((event): VehicleEvent => {
    const finding = findings.get(event.record_id)
    const cause = finding?.caused_by
    const jobId = finding?.job_id
    return {
      record_id: event.record_id,
      id: event.id,
      date: event.date,
      distance: event.distance,
      event: event.event,
      by: event.by,
      operation: event.operation,
      component: event.component,
      failure_mode: event.failure_mode,
      symptom: event.symptom,
      note: event.note,
      comeback_of: event.comeback_of,
      caused_by: cause === undefined ? null : 'job_id' in cause ? cause.job_id : cause.prior_work_id,
      exactness: exactness.get(event.record_id) ?? (event.date === null ? 'unknown' : 'day'),
      order_id: stayOfJob.get(jobId ?? event.record_id) ?? (jobId === undefined ? null : orderOfJob(ctx, jobId)),
      is_finding: finding !== undefined,
    }
  })
  return [...told, ...jobs.flatMap(taskInOwnWords), ...registration(vehicle, told)].sort((one, other) =>
    (one.date ?? '').localeCompare(other.date ?? ''),
  )
}

/** A job without an operation is in no statistic, but it was done. */
function taskInOwnWords(job: JobInHistory): VehicleEvent[] {
  if (job.operation_id !== null || job.handed_back_on === null) return []
  return [
    {
      ...{ record_id: job.id, id: job.id, date: job.handed_back_on, distance: job.handed_back_km, event: 'work' },
      ...{ by: 'us', operation: job.task, component: null, failure_mode: null, symptom: null, note: null },
      ...{ comeback_of: null, caused_by: null, exactness: 'day', order_id: job.work_order_id, is_finding: false },
    },
  ]
}

/** Where nobody wrote down when its life began, the day it was first registered stands for it. */
function registration(vehicle: Vehicle, told: readonly VehicleEvent[]): VehicleEvent[] {
  const { id, first_registered_on } = vehicle
  if (first_registered_on === undefined || told.some(event => event.event === 'in_service')) return []
  return [
    {
      ...{ record_id: id, id, date: first_registered_on, distance: null, event: 'in_service', by: null },
      ...{ operation: 'First registered', component: null, failure_mode: null, symptom: null, note: null },
      ...{ comeback_of: null, caused_by: null, exactness: 'day', order_id: null, is_finding: false },
    },
  ]
}

function oftenAfter(ctx: Context): (operation: string, component: string) => boolean {
  const pairs = oftenPairs(ctx)
  const names = operationNames(ctx, [...pairs.keys()])
  const often = new Map([...pairs.values()].map((components, at) => [names[at], componentNames(ctx, [...components])]))
  return (operation, component) => often.get(operation)?.includes(component) === true
}
