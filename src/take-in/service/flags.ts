import { settingsOf } from '../../accounts/index.ts'
import { suspicionsFor } from '../../comebacks/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { formatMinor } from '../../core/money.ts'
import { severityRank } from '../../core/vocabulary.ts'
import { type Doubt, openDoubts } from '../../fastening/index.ts'
import { type LeftForLater, leftForLaterOn, oneFinding } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { odometerReadings, vehicleById } from '../../vehicles/index.ts'
import {
  jobById,
  jobsOfVehicle,
  planOfOrder,
  type WorkOrderRecord,
  workOrdersOfVehicle,
} from '../../work-orders/index.ts'
import { type Flag, type FlagFacts, flagsFrom } from '../rules/flags.ts'
import { othersWorkOn } from './others-work.ts'

/**
 * What the record says about a vehicle that comes in, each with its reason: on the day of the stay, or today while it has
 * not been taken in. Its symptoms decide what may be ours come back and which work of others is worth a word.
 *
 * @param doubts all that are open; read once by whoever asks for many vehicles.
 */
export function flagsOf(
  ctx: Context,
  of: { vehicle_id: string; order: WorkOrderRecord | null },
  doubts: readonly Doubt[] = openDoubts(ctx),
): Flag[] {
  const { vehicle_id, order } = of
  const { time_zone } = settingsOf(ctx)
  const vehicle = vehicleById(ctx, vehicle_id)
  const on = localDateOf(order === null ? ctx.clock.now() : Date.parse(order.created_at), time_zone)
  const reading = readingOf(ctx, vehicle_id, order)
  return flagsFrom({
    on,
    odometer_km: reading?.distance_km ?? null,
    odometer_unit: vehicle.odometer_unit,
    suspicions: order === null ? [] : suspicionsOf(ctx, vehicle_id, order.id),
    jobs: jobsOfVehicle(ctx, vehicle_id).flatMap(job => {
      if (job.handed_back_on === null || job.work_order_id === order?.id) return []
      const { id, work_order_id, work_order_number, task, handed_back_on, warranty } = job
      return [{ id, work_order_id, work_order_number, task, handed_back_on, warranty }]
    }),
    doubts: doubts
      .filter(doubt => doubt.vehicle_id === vehicle_id)
      .sort((one, other) => severityRank(one.severity) - severityRank(other.severity)),
    tools: toolsOfOtherStays(ctx, vehicle_id, order?.id),
    left_for_later: leftForLaterOn(ctx, vehicle_id)
      .filter(left => left.settled_by_job_id === undefined)
      .map(left => leftFact(ctx, left)),
    others: othersWorkOn(ctx, vehicle_id, order === null ? null : order.symptoms),
    odometer_oddities: reading === undefined ? [] : reading.warnings.map(warning => warning.detail),
    vehicle_href: `/vehicles/${vehicle_id}`,
  })
}

/** The reading that a stay began with, as it stands beside the others; without a stay, the newest. */
function readingOf(ctx: Context, vehicleId: string, order: WorkOrderRecord | null) {
  const all = odometerReadings(ctx, vehicleId)
  if (order === null) return all.at(-1)
  // written in the same write as the order or as a later correction of it
  return all.findLast(reading => reading.distance_km === order.odometer_km && reading.created_at >= order.created_at)
}

function suspicionsOf(ctx: Context, vehicle_id: string, work_order_id: string): FlagFacts['suspicions'] {
  return suspicionsFor(ctx, { vehicle_id, work_order_id }).map(({ earlier_job_id, sentence, reasons, href }) => ({
    ...{ earlier_job_id, sentence, href },
    reasons: reasons.map(reason => reason.sentence),
  }))
}

function toolsOfOtherStays(ctx: Context, vehicleId: string, orderId: string | undefined): FlagFacts['tools'] {
  return workOrdersOfVehicle(ctx, vehicleId)
    .filter(order => order.id !== orderId)
    .flatMap(order =>
      planOfOrder(ctx, order.id)
        .jobs.flatMap(job => job.tools_in)
        .filter(tool => tool.removed_at === null)
        .map(({ tool }) => ({ tool, work_order_id: order.id, work_order_number: order.number })),
    )
}

function leftFact(ctx: Context, left: LeftForLater): FlagFacts['left_for_later'][number] {
  const { currency, locale, time_zone } = settingsOf(ctx)
  const job = left.finding_id === undefined ? undefined : oneFinding(ctx, left.finding_id).job_id
  return {
    text: left.text,
    on: localDateOf(Date.parse(left.created_at), time_zone),
    amount: left.amount_minor === undefined ? null : formatMinor(left.amount_minor, currency, locale),
    href: job === undefined ? `/vehicles/${left.vehicle_id}` : `/work-orders/${jobById(ctx, job).work_order_id}`,
  }
}
