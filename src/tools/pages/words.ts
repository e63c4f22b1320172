import { longDay } from '../../core/days.ts'
import { listed } from '../../core/words.ts'
import type { Wrench } from '../contract.ts'
import { troubleInWords } from '../rules.ts'

export const KIND_WORDS = { measures: 'measures', clicks: 'clicks' } as const

/** How a wrench stands today, in words. */
export function stateInWords({ trouble, due_on }: Pick<Wrench, 'trouble' | 'due_on'>): string {
  if (trouble.length > 0) return `not to be used: ${listed(trouble.map(troubleInWords))}`
  return due_on === undefined ? 'may be used' : `may be used, to ${longDay(due_on)}`
}

export function rangeInWords({ min_nm, max_nm }: Pick<Wrench, 'min_nm' | 'max_nm'>): string {
  return `${min_nm} to ${max_nm} N·m`
}
