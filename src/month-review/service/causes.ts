import { settingsOf } from '../../accounts/index.ts'
import { correctiveActionsThen, type Loss, lossesKnown } from '../../comebacks/index.ts'
import { localDateOf, startOfDayMs } from '../../core/calendar.ts'
import { sumDecimals } from '../../core/decimal.ts'
import { sumMinor } from '../../core/money.ts'
import type { Context } from '../../platform/context.ts'
import type { MonthAction, MonthCause, MonthLosses } from '../contract.ts'
import { decisionsOnStays, importedReturnsIn, staysById } from '../queries/returns.ts'
import { type Caused, causeCounts } from '../rules/causes.ts'
import { monthsTo, yearTo } from '../rules/months.ts'
import { standingThen } from '../rules/standing-then.ts'
import type { MonthSpan } from './span.ts'

/** What came back and what was done twice, by cause: in the month, and in the twelve to its end, as known then. */
export function causesOf(ctx: Context, span: MonthSpan): MonthCause[] {
  return causeCounts([...comebacksInYear(ctx, span), ...lossesInYear(ctx, span)], span.month)
}

/** A stay is counted in the month in which the vehicle came in. */
function comebacksInYear(ctx: Context, { month, last, as_known_on, before, toMs }: MonthSpan): Caused[] {
  const { time_zone } = settingsOf(ctx)
  const first = yearTo(month)
  const { standing } = standingThen(
    decisionsOnStays(ctx.read, { fromMs: startOfDayMs(first, time_zone), toMs }),
    before,
  )
  const confirmed = standing.filter(each => each.decision === 'confirmed')
  const stays = staysById(
    ctx.read,
    confirmed.map(each => each.later_work_order_id),
  )
  const own = confirmed.map(({ category, later_work_order_id }) => ({
    month: localDateOf(stays.get(later_work_order_id)!.created_at, time_zone).slice(0, 7),
    category: category ?? '',
    is_loss: false,
  }))
  const until = last < as_known_on ? last : as_known_on
  const imported = importedReturnsIn(ctx.read, { first, last: until })
  return [...own, ...imported.map(row => ({ month: row.on.slice(0, 7), category: '', is_loss: false }))]
}

function lossesInYear(ctx: Context, span: MonthSpan): Caused[] {
  const months = new Set(monthsTo(span.month, 11))
  return inMonths(ctx, span, months).map(({ loss, month }) => ({
    month,
    category: loss.causes.at(-1)?.category ?? '',
    is_loss: true,
  }))
}

function inMonths(ctx: Context, { before }: MonthSpan, months: ReadonlySet<string>): { loss: Loss; month: string }[] {
  const { time_zone } = settingsOf(ctx)
  return lossesKnown(ctx, before)
    .map(loss => ({ loss, month: localDateOf(Date.parse(loss.at), time_zone).slice(0, 7) }))
    .filter(({ month }) => months.has(month))
}

export function lossesOf(ctx: Context, span: MonthSpan): MonthLosses {
  const losses = inMonths(ctx, span, new Set([span.month])).map(({ loss }) => loss)
  return {
    count: losses.length,
    hours: sumDecimals(losses.map(loss => loss.hours)),
    cost_minor: sumMinor(losses.map(loss => loss.labour_minor)),
  }
}

/** Those of the twelve months to the end of the month, the newest first. */
export function actionsOf(ctx: Context, { month, last, as_known_on }: MonthSpan): MonthAction[] {
  const first = yearTo(month)
  return correctiveActionsThen(ctx, as_known_on)
    .filter(({ done_on }) => done_on >= first && done_on <= last)
    .map(({ id, what, done_on, sentence }) => ({ action_id: id, what, done_on, sentence }))
}
