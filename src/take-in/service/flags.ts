import { settingsOf } from '../../accounts/index.ts'
import { type SuspicionFlag, suspicionsFor, suspicionsOfStayToBe } from '../../comebacks/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { formatMinor } from '../../core/money.ts'
import { severityRank } from '../../core/vocabulary.ts'
import { type Doubt, openDoubts, openPartsOfVehicle } from '../../fastening/index.ts'
import {
  adviceWords,
  findingWords,
  type LeftForLater,
  leftForLaterOn,
  oneFinding,
  openSafetyFindingsOn,
} from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { oddOfReading, odometerReadings, readingsOfVehicle, vehicleById } from '../../vehicles/index.ts'
import {
  jobById,
  jobsOfVehicle,
  planOfOrder,
  type WorkOrderRecord,
  workOrdersOfVehicle,
} from '../../work-orders/index.ts'
import { type Flag, type FlagFacts, flagsFrom } from '../rules/flags.ts'
import { othersWorkOn } from './others-work.ts'

/** What a vehicle that is not taken in yet comes with, as far as anybody has said. */
export interface StayToBe {
  symptoms: readonly string[]
  odometer_km: number | null
}

/** Of a stay, or of a vehicle that is not taken in yet. */
export type FlagsWanted = { vehicle_id: string; order: WorkOrderRecord } | { vehicle_id: string; to_be: StayToBe }

/**
 * What the record says about a vehicle that comes in, each with its reason: on the day of the stay, or today while it has
 * not been taken in. Its symptoms decide what may be ours come back and which work of others is worth a word.
 *
 * @param doubts all that are open; read once by whoever asks for many vehicles.
 */
export function flagsOf(ctx: Context, of: FlagsWanted, doubts: readonly Doubt[] = openDoubts(ctx)): Flag[] {
  const { vehicle_id } = of
  const order = 'order' in of ? of.order : null
  const toBe = 'to_be' in of ? of.to_be : null
  const { time_zone } = settingsOf(ctx)
  const vehicle = vehicleById(ctx, vehicle_id)
  const on = localDateOf(order === null ? ctx.clock.now() : Date.parse(order.created_at), time_zone)
  const reading = order === null ? readingToBe(ctx, vehicle_id, on, toBe) : readingOf(ctx, vehicle_id, order)
  return flagsFrom({
    on,
    odometer_km: reading?.distance_km ?? null,
    odometer_unit: vehicle.odometer_unit,
    suspicions: order === null ? [] : withReasons(suspicionsFor(ctx, { vehicle_id, work_order_id: order.id })),
    to_be: toBe === null ? [] : withReasons(suspicionsOfStayToBe(ctx, { vehicle_id, symptoms: toBe.symptoms })),
    jobs: jobsOfVehicle(ctx, vehicle_id).flatMap(job => {
      if (job.handed_back_on === null || job.work_order_id === order?.id) return []
      const { id, work_order_id, work_order_number, task, handed_back_on, warranty } = job
      return [{ id, work_order_id, work_order_number, task, handed_back_on, warranty }]
    }),
    doubts: doubtsOn(ctx, vehicle_id, doubts),
    tools: toolsOfOtherStays(ctx, vehicle_id, order?.id),
    safety_findings: safetyFindings(ctx, vehicle_id, order),
    left_for_later: leftForLaterOn(ctx, vehicle_id)
      .filter(left => left.settled_by_job_id === undefined)
      .map(left => leftFact(ctx, left)),
    others: othersWorkOn(ctx, vehicle_id, symptomsOf(order, toBe)),
    odometer_oddities: reading === undefined ? [] : reading.warnings.map(warning => warning.detail),
    vehicle_href: `/vehicles/${vehicle_id}`,
  })
}

/** Safety first, then parts whose joint nobody named; each as the customer may hear it. */
function doubtsOn(ctx: Context, vehicleId: string, doubts: readonly Doubt[]): FlagFacts['doubts'] {
  const joints = doubts
    .filter(doubt => doubt.vehicle_id === vehicleId)
    .sort((one, other) => severityRank(one.severity) - severityRank(other.severity))
  const parts = openPartsOfVehicle(ctx, vehicleId)
  return [
    ...joints.map(({ customer_sentence, severity, joint_id }) => ({
      sentence: customer_sentence,
      severity,
      href: `/bench/joints/${joint_id}`,
    })),
    ...parts.map(({ customer_sentence, work_order_id }) => ({
      sentence: customer_sentence,
      severity: null,
      href: `/work-orders/${work_order_id}`,
    })),
  ]
}

/** While nobody has said what is wrong, everything may matter. */
function symptomsOf(order: WorkOrderRecord | null, toBe: StayToBe | null): readonly string[] | null {
  if (order !== null) return order.symptoms
  return toBe === null || toBe.symptoms.length === 0 ? null : toBe.symptoms
}

/** The reading that a stay began with, as it stands beside the others. */
function readingOf(ctx: Context, vehicleId: string, order: WorkOrderRecord) {
  // written in the same write as the order or as a later correction of it
  return odometerReadings(ctx, vehicleId).findLast(
    reading => reading.distance_km === order.odometer_km && reading.created_at >= order.created_at,
  )
}

/** What the odometer is said to show today; else the newest reading. */
function readingToBe(ctx: Context, vehicleId: string, on: string, toBe: StayToBe | null) {
  const distance_km = toBe?.odometer_km ?? null
  if (distance_km === null) return readingsOfVehicle(ctx, vehicleId).newest
  return { distance_km, warnings: oddOfReading(ctx, vehicleId, { on, distance_km, display_replaced: false }) }
}

type SuspicionSaid = Pick<SuspicionFlag, 'earlier_job_id' | 'sentence' | 'reasons' | 'href'>

function withReasons(suspicions: readonly SuspicionSaid[]): FlagFacts['suspicions'] {
  return suspicions.map(({ earlier_job_id, sentence, reasons, href }) => ({
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

/** Of stays before that order (of all, without one): what is found during a stay stands on its own order. */
export function safetyFindings(
  ctx: Context,
  vehicleId: string,
  order: WorkOrderRecord | null,
): FlagFacts['safety_findings'] {
  return openSafetyFindingsOn(ctx, vehicleId)
    .filter(finding => order === null || finding.created_at < order.created_at)
    .map(finding => ({
      text: [findingWords(finding), finding.note?.replace(/\.$/, '')].filter(Boolean).join('. '),
      on: finding.found_on,
      advice: adviceWords(finding),
      href: pageOfFinding(ctx, vehicleId, finding.job_id),
    }))
}

function pageOfFinding(ctx: Context, vehicleId: string, jobId: string | undefined): string {
  return jobId === undefined ? `/vehicles/${vehicleId}` : `/work-orders/${jobById(ctx, jobId).work_order_id}`
}

function leftFact(ctx: Context, left: LeftForLater): FlagFacts['left_for_later'][number] {
  const { currency, locale, time_zone } = settingsOf(ctx)
  const job = left.finding_id === undefined ? undefined : oneFinding(ctx, left.finding_id).job_id
  return {
    text: left.text,
    on: localDateOf(Date.parse(left.created_at), time_zone),
    amount: left.amount_minor === undefined ? null : formatMinor(left.amount_minor, currency, locale),
    href: pageOfFinding(ctx, left.vehicle_id, job),
  }
}
