import { settingsOf } from '../../accounts/index.ts'
import { addDays, type CalendarDate, monthBounds, startOfDayMs } from '../../core/calendar.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { MonthReviewQuery } from '../contract.ts'
import { knownOnAtFirst, knownOnFault, monthFault } from '../rules/months.ts'

/** A month, and the day on which it is to be known: facts that were written down later are left out. */
export interface MonthSpan {
  month: string
  first: CalendarDate
  last: CalendarDate
  as_known_on: CalendarDate
  /** The instant (ms) at which that day ended. */
  before: number
  /** The month as instants (ms). */
  fromMs: number
  toMs: number
}

/** 422 for a month that is none, that has not begun, and for a day that lies before it or in the future. */
export function spanOf(ctx: Context, month: string, { as_of }: MonthReviewQuery): MonthSpan {
  const today = asKnown(ctx).asOf
  const fault = monthFault(month, today)
  if (fault !== null) throw invalid({ pointer: '/month', detail: fault, code: 'no_such_month' })
  const day = as_of ?? knownOnAtFirst(month, today)
  const dayFault = knownOnFault(day, month, today)
  if (dayFault !== null) throw invalid({ pointer: '/as_of', detail: dayFault, code: 'out_of_range' })
  const { time_zone } = settingsOf(ctx)
  const { first, last } = monthBounds(month)
  return {
    ...{ month, first, last },
    as_known_on: day,
    before: asKnown(ctx, day).before,
    fromMs: startOfDayMs(first, time_zone),
    toMs: startOfDayMs(addDays(last, 1), time_zone),
  }
}
