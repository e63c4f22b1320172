import { formatMinor } from '../../core/money.ts'
import { numberFormat } from '../../core/number-formats.ts'
import type { Habits } from '../forms/decode.ts'

/** Writes amounts and numbers as the workshop does. Days are written by core/days, distances by core/words. */
export interface Pen {
  money(amountMinor: number): string
  percent(basisPoints: number): string
  number(value: number): string
}

export function penOf({ currency, locale }: Omit<Habits, 'time_zone'>): Pen {
  const number = (value: number) => numberFormat(locale, { maximumFractionDigits: 3 }).format(value)
  return {
    money: amount => formatMinor(amount, currency, locale),
    percent: basisPoints => `${number(basisPoints / 100)} %`,
    number,
  }
}
