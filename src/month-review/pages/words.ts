import { longDay, shortDay } from '../../core/days.ts'
import { formatMinor } from '../../core/money.ts'
import { capital, countWord } from '../../core/words.ts'
import type { Actor } from '../../platform/context.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { link, type Piece, ref } from '../../platform/pages/words.ts'

/** Writes amounts as the workshop does; null for whoever is not shown money. */
export type MoneyPen = (amountMinor: number) => string

/** Money is shown to the owner and the desk. */
export function moneyPenFor(actor: Actor | null, { currency, locale }: Habits): MoneyPen | null {
  if (actor?.role === 'technician') return null
  return amount => formatMinor(amount, currency, locale)
}

/** October 2031. */
export function monthName(month: string): string {
  return longDay(`${month}-01`).slice('1 '.length)
}

/** Oct. */
export function shortMonth(month: string): string {
  return shortDay(`${month}-01`).slice('1 '.length, '1 Oct'.length)
}

/** Oct 2031. */
export function shortMonthAndYear(month: string): string {
  return shortDay(`${month}-01`).slice('1 '.length)
}

/** 'Three jobs', 'One job', 'No job': how a sentence begins. */
export function countedFirst(count: number, one: string, many = `${one}s`): string {
  return count === 0 ? `No ${one}` : `${capital(countWord(count))} ${count === 1 ? one : many}`
}

export function orderLink({ id, number }: { id: string; number: string }): Piece {
  return link(`/work-orders/${encodeURIComponent(id)}`, ref(number))
}

export function percent(share: number | null): string {
  return share === null ? '–' : (share * 100).toFixed(1)
}
