import {
  decidedOfVehicle,
  readableAt,
  type SuspicionFlag,
  suspicionsFor,
  type ToldDecision,
} from '../../comebacks/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import type { JobInHistory } from '../../work-orders/index.ts'
import type { CameBack, EventToTell } from '../rules/life.ts'

/** A decision of the owner, and where whoever asks reads it. */
export interface DecidedComeback extends ToldDecision {
  href: string
}

/** What came back on a vehicle: as the owner decided it, and what nobody has decided. */
export interface VehicleComebacks {
  decided: DecidedComeback[]
  suspected: SuspicionFlag[]
}

export function comebacksOfVehicle(ctx: Context, vehicleId: string): VehicleComebacks {
  const isOwner = ctx.actor?.role === 'owner'
  return {
    decided: decidedOfVehicle(ctx, vehicleId).map(one => ({
      ...one,
      href: readableAt(ctx, one.about.earlier_job_id, one.about.later_work_order_id),
    })),
    suspected: suspicionsFor(ctx, { vehicle_id: vehicleId }).map(flag => ({
      ...flag,
      href: isOwner ? flag.href : '/comebacks',
    })),
  }
}

interface StayEvent extends EventToTell {
  order_id: string | null
  is_finding: boolean
}

/**
 * The event with which each confirmed comeback came in: the first failure that was found during the later stay, else the first
 * work of it. One of which nothing is dated yet has none.
 */
export function cameBackAs(
  { decided }: VehicleComebacks,
  events: readonly StayEvent[],
  jobs: readonly JobInHistory[],
  timeZone: string,
): CameBack[] {
  return decided.flatMap(({ about, stay, href }) => {
    if (about.decision !== 'confirmed') return []
    const since = localDateOf(stay.created_at, timeZone)
    const until = jobs.find(job => job.work_order_id === stay.id)?.handed_back_on ?? null
    const during = events.filter(({ order_id, is_finding, date }) => {
      if (order_id !== null || !is_finding || date === null) return order_id === stay.id && date !== null
      return date >= since && (until === null || date <= until)
    })
    const later = during.find(({ event }) => event === 'failure') ?? during.find(({ event }) => event === 'work')
    return later === undefined ? [] : [{ earlier: about.earlier_job_id, later: later.record_id, href }]
  })
}
