import { formatMinor } from '../../core/money.ts'
import type { Habits } from '../forms/decode.ts'

/** Writes amounts and numbers as the workshop does. Days are written by core/days, distances by core/words. */
export interface Pen {
  money(amountMinor: number): string
  percent(basisPoints: number): string
  number(value: number): string
}

export function penOf({ currency, locale }: Omit<Habits, 'time_zone'>): Pen {
  const numbers = new Intl.NumberFormat(locale, { maximumFractionDigits: 3 })
  return {
    money: amount => formatMinor(amount, currency, locale),
    percent: basisPoints => `${numbers.format(basisPoints / 100)} %`,
    number: value => numbers.format(value),
  }
}
