import { settingsOf } from '../../accounts/index.ts'
import { charges } from '../../core/charges.ts'
import { formatMinor, sumMinor, timesMinor } from '../../core/money.ts'
import { partById } from '../../parts/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, known, notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { eachTogether, together } from '../../platform/together.ts'
import { fromInstant, toInstant, withoutNulls } from '../../platform/wire.ts'
import type {
  Authorisation,
  AuthorisationInput,
  Estimate,
  EstimateInput,
  EstimateLine,
  Talk,
  TalkInput,
} from '../contract.ts'
import * as queries from '../queries/agreement.ts'
import { requireOrder, requireOrderInHouse } from './known.ts'
import { planOfOrder } from './plan.ts'

/** Desk or technician. One line for a conversation with the customer; also after hand-back, when they ring about it. */
export function writeTalk(ctx: Context, orderId: string, input: TalkInput): Talk {
  authorise(ctx, 'desk', 'technician')
  return write(ctx, tx => {
    requireOrder(ctx, orderId)
    const row = {
      ...newRecord(ctx),
      ...{ work_order_id: orderId, with: input.with, how: input.how, said: input.said },
      ...{ promised: input.promised ?? null, salt: ctx.ids.next() },
    }
    queries.insertTalk(tx, row)
    recordEvent(ctx, tx, { action: 'talk.written', table: 'talks', id: row.id })
    return talkToWire(row)
  })
}

/** Oldest first. 404 for an unknown order. */
export function talksOfOrder(ctx: Context, orderId: string): Talk[] {
  requireOrder(ctx, orderId)
  return queries.findTalks(ctx.read, orderId).map(talkToWire)
}

/**
 * Desk. A new version of the estimate, which covers all that stands on the order now (see `chargesOf`). 422 for a line that
 * names a job of another order, a voided one or an unknown part, and for a discount above what the lines add up to.
 */
export function makeEstimate(ctx: Context, orderId: string, input: EstimateInput): Estimate {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    requireOrderInHouse(ctx, orderId)
    checkLines(ctx, orderId, input)
    const newest = queries.findNewestEstimate(tx, orderId)
    const row = {
      ...newRecord(ctx),
      work_order_id: orderId,
      version: (newest?.version ?? 0) + 1,
      lines: input.lines.map(lineToRow),
      discount_minor: input.discount_minor ?? null,
    }
    queries.insertEstimate(tx, row)
    recordEvent(ctx, tx, { action: 'estimate.made', table: 'estimates', id: row.id })
    return estimateToWire(row)
  })
}

function checkLines(ctx: Context, orderId: string, input: EstimateInput): void {
  const standing = planOfOrder(ctx, orderId).jobs.filter(job => job.voiding === null)
  together({
    jobs: () =>
      eachTogether(input.lines, ({ job_id }, index) => {
        if (job_id === undefined || standing.some(job => job.id === job_id)) return
        const detail = `No job that stands on this order has the id ${job_id}.`
        throw invalid({ pointer: `/lines/${index}/job_id`, detail, code: 'unknown' })
      }),
    parts: () =>
      eachTogether(
        input.lines,
        ({ part_id }, index) => part_id !== undefined && known(`/lines/${index}/part_id`, () => partById(ctx, part_id)),
      ),
    discount: () => refuseHigherDiscount(ctx, input),
  })
}

function refuseHigherDiscount(ctx: Context, { lines, discount_minor = 0 }: EstimateInput): void {
  const sum = sumMinor(lines.map(line => timesMinor(line.quantity, line.unit_minor)))
  if (discount_minor <= sum) return
  const { currency, locale } = settingsOf(ctx)
  const detail = `The discount is more than the lines add up to: ${formatMinor(sum, currency, locale)}.`
  throw invalid({ pointer: '/discount_minor', detail, code: 'too_big' })
}

function lineToRow({ job_id, part_id, ...line }: EstimateLine): queries.EstimateRow['lines'][number] {
  return { ...line, ...(job_id !== undefined && { job_id }), ...(part_id !== undefined && { part_id }) }
}

/** Oldest version first. 404 for an unknown order. */
export function estimatesOfOrder(ctx: Context, orderId: string): Estimate[] {
  requireOrder(ctx, orderId)
  return queries.findEstimates(ctx.read, orderId).map(estimateToWire)
}

/** Two clocks of one shop may differ by so much. */
const CLOCKS_APART_MS = 10 * 60_000

/** Desk. The customer's yes to a total. 422 when the estimate is not one of this order. */
export function authoriseAmount(ctx: Context, orderId: string, input: AuthorisationInput): Authorisation {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    requireOrderInHouse(ctx, orderId)
    const { estimate_id, amount_minor, includes_tax, said_by, how } = input
    if (estimate_id !== undefined && !queries.findEstimates(tx, orderId).some(row => row.id === estimate_id)) {
      const detail = `This order has no estimate with the id ${estimate_id}.`
      throw invalid({ pointer: '/estimate_id', detail, code: 'unknown' })
    }
    const record = newRecord(ctx)
    if (input.at !== undefined && fromInstant(input.at) > record.created_at + CLOCKS_APART_MS) {
      throw invalid({ pointer: '/at', detail: 'This lies in the future. Say when the yes was given.', code: 'future' })
    }
    const row = {
      ...record,
      ...{ work_order_id: orderId, estimate_id: estimate_id ?? null, amount_minor, includes_tax, said_by, how },
      at: input.at === undefined ? record.created_at : fromInstant(input.at),
      salt: ctx.ids.next(),
    }
    queries.insertAuthorisation(tx, row)
    recordEvent(ctx, tx, { action: 'amount.authorised', table: 'authorisations', id: row.id })
    return authorisationToWire({ ...row, withdrawal: null })
  })
}

/**
 * Desk. Takes back a yes that was written down wrongly, with the reason; what the customer did say is written down anew.
 * 404 when the order has no such yes, 409 `authorisation-withdrawn` the second time, 409 once it was handed back.
 */
export function withdrawAuthorisation(ctx: Context, orderId: string, id: string, reason: string): Authorisation {
  authorise(ctx, 'desk')
  return write(ctx, tx => {
    requireOrderInHouse(ctx, orderId)
    const row = queries.findAuthorisations(tx, orderId).find(each => each.id === id)
    if (row === undefined) throw notFound('authorisation', id)
    if (row.withdrawal !== null) throw problem('authorisation-withdrawn', { detail: 'This yes was taken back before.' })
    const withdrawal = { ...newRecord(ctx), authorisation_id: id, reason }
    queries.insertAuthorisationWithdrawal(tx, withdrawal)
    const what = { action: 'authorisation.withdrawn', table: 'authorisation_withdrawals', id: withdrawal.id }
    recordEvent(ctx, tx, what)
    return authorisationToWire({ ...row, withdrawal })
  })
}

/** Oldest first. 404 for an unknown order. */
export function authorisationsOfOrder(ctx: Context, orderId: string): Authorisation[] {
  requireOrder(ctx, orderId)
  return queries.findAuthorisations(ctx.read, orderId).map(authorisationToWire)
}

function talkToWire({ salt: _, created_at, promised, ...row }: queries.TalkRow): Talk {
  return { ...row, created_at: toInstant(created_at), ...withoutNulls({ promised }) }
}

function estimateToWire(row: queries.EstimateRow): Estimate {
  const lines: EstimateLine[] = row.lines
  const { line_minor, discount_minor: _, ...totals } = charges(lines, row.discount_minor ?? 0)
  const { id, created_by, work_order_id, version, discount_minor } = row
  return {
    ...{ id, created_at: toInstant(row.created_at), created_by, work_order_id, version },
    lines: lines.map((line, index) => ({ ...line, line_minor: line_minor[index]! })),
    ...withoutNulls({ discount_minor }),
    ...totals,
  }
}

function authorisationToWire({
  salt: _,
  created_at,
  at,
  estimate_id,
  withdrawal,
  ...row
}: queries.KnownAuthorisation): Authorisation {
  const taken = withdrawal && {
    at: toInstant(withdrawal.created_at),
    by: withdrawal.created_by,
    reason: withdrawal.reason,
  }
  return {
    ...{ ...row, created_at: toInstant(created_at), at: toInstant(at) },
    ...withoutNulls({ estimate_id }),
    ...(taken !== null && { withdrawn: taken }),
  }
}
