import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { formatMinor } from '../../core/money.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { yearNumber } from '../../platform/database/counters.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import { recordOdometer } from '../../vehicles/index.ts'
import {
  type ChargesOfOrder,
  chargesOfPlan,
  type HandBackRow,
  handBackOf,
  insertHandBack,
  type OrderPlan,
  planOfOrder,
  warrantyTerm,
  workOrderById,
} from '../../work-orders/index.ts'
import type { HandBack, HandBackInput } from '../contract.ts'
import { type Blocker, inOneClause, workBlockers } from '../rules/blockers.ts'
import { afterBearing } from '../rules/to-pay.ts'
import { questionsToAsk } from './ask-first.ts'
import { factsOf, moneyBlockersOf } from './standing.ts'

/**
 * Desk. The vehicle leaves: the invoice gets the next number of its year, and each job its warranty. 409 `hand-back-blocked`
 * with `blockers` while a tool is in, a step open, a joint unsigned, a look or final check missing, or the total above what
 * was agreed and what we bear; a job that nobody called done does not block, and stands in `to_ask`. 409 `work-order-handed-back` the second time; 422 for a share without its reason, and for an
 * odometer below the one it came with.
 */
export function handBack(ctx: Context, orderId: string, input: HandBackInput): HandBack {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    const plan = planOfOrder(ctx, orderId)
    if (plan.hand_back !== null) {
      const detail = `Work order ${plan.order.number} was handed back on ${plan.hand_back.on}.`
      throw problem('work-order-handed-back', { detail })
    }
    refuseLowerOdometer(plan, input)
    const charges = chargesOfPlan(ctx, plan)
    const borne = borneOf(ctx, input, charges)
    const blockers = blockersOf(ctx, plan, charges, borne)
    if (blockers.length > 0) {
      throw problem('hand-back-blocked', {
        detail: `The vehicle cannot be handed back yet: ${inOneClause(blockers)}.`,
        extra: { blockers },
      })
    }
    const record = newRecord(ctx)
    const on = localDateOf(record.created_at, settingsOf(ctx).time_zone)
    const row: HandBackRow = {
      ...record,
      ...{ work_order_id: orderId, at: record.created_at, on },
      odometer_km: input.odometer_km ?? plan.order.odometer_km,
      borne_minor: borne === 0 ? null : borne,
      borne_reason: borne === 0 ? null : (input.borne_reason ?? null),
      invoice_number: yearNumber(ctx, tx, 'invoice', Number(on.slice(0, 4))),
      ...{ lines: charges.lines, discount_minor: charges.discount_minor },
      ...afterBearing(charges, borne),
    }
    insertHandBack(ctx, tx, row)
    if (input.odometer_km !== undefined) {
      recordOdometer(ctx, plan.order.vehicle_id, { on, distance_km: input.odometer_km })
    }
    return toWire(ctx, plan, row)
  })
}

/** A reading below the one it came with would stand on the invoice and end the warranty too soon. */
function refuseLowerOdometer({ order }: OrderPlan, { odometer_km }: HandBackInput): void {
  if (odometer_km === undefined || order.odometer_km === null || odometer_km >= order.odometer_km) return
  throw invalid({
    pointer: '/odometer_km',
    detail: `It came with ${order.odometer_km} km, so it cannot leave with ${odometer_km}. Read it again, or put the order right first.`,
    code: 'lower',
  })
}

function borneOf(ctx: Context, input: HandBackInput, { total_minor }: ChargesOfOrder): number {
  const { borne_minor = 0, borne_reason } = input
  if (borne_minor > 0 && borne_reason === undefined) {
    throw invalid({
      pointer: '/borne_reason',
      detail: 'Say why we bear it: this is a loss that we learn from.',
      code: 'needed',
    })
  }
  if (borne_minor <= total_minor) return borne_minor
  const { currency, locale } = settingsOf(ctx)
  const detail = `There is only ${formatMinor(total_minor, currency, locale)} to bear.`
  throw invalid({ pointer: '/borne_minor', detail, code: 'too_big' })
}

/** What keeps the vehicle from being handed back if we bear so much, tax included. */
function blockersOf(ctx: Context, plan: OrderPlan, charges: ChargesOfOrder, borneMinor: number): Blocker[] {
  return [...workBlockers(factsOf(ctx, plan)), ...moneyBlockersOf(ctx, plan, charges, borneMinor)]
}

/** 404 for an unknown order, and while the vehicle is in the house. */
export function handBackById(ctx: Context, orderId: string): HandBack {
  const { number } = workOrderById(ctx, orderId)
  const row = handBackOf(ctx, orderId)
  if (row === undefined) throw notFound(`hand-back of work order ${number}`, orderId)
  return toWire(ctx, planOfOrder(ctx, orderId), row)
}

function toWire(ctx: Context, plan: OrderPlan, row: HandBackRow): HandBack {
  const { id, created_by, work_order_id, on, odometer_km, borne_minor, borne_reason } = row
  const standing = plan.jobs.filter(job => job.voiding === null)
  return {
    ...{ id, created_at: toInstant(row.created_at), created_by, work_order_id, at: toInstant(row.at), on },
    ...withoutNulls({ odometer_km, borne_minor, borne_reason }),
    invoice: {
      ...{ number: row.invoice_number, lines: row.lines, discount_minor: row.discount_minor },
      ...{ net_minor: row.net_minor, tax: row.tax, gross_minor: row.gross_minor },
    },
    warranties: standing.flatMap(job => {
      const { until_on, until_km } = warrantyTerm(job, row)
      return until_on === undefined ? [] : [{ job_id: job.id, until_on, ...(until_km !== undefined && { until_km }) }]
    }),
    to_ask: questionsToAsk(ctx, plan, row.gross_minor),
  }
}
