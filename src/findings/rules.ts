import type { Severity } from '../core/vocabulary.ts'

/** A skipped look: anybody may leave out one that only saves trouble, with a reason that stays; one that safety hangs on only the owner may. */
export function maySkipLook(severity: Severity, role: 'desk' | 'technician' | 'owner' | 'command line'): boolean {
  return severity !== 'safety' || role === 'owner' || role === 'command line'
}

/** The day that stands for a rough date: the 15th of a month, 1 July of a year, the day itself; none when unknown. */
export function standsOn(exactness: 'day' | 'month' | 'year' | 'unknown', on: string | undefined): string | null {
  if (on === undefined || exactness === 'unknown') return null
  if (exactness === 'month') return `${on.slice(0, 7)}-15`
  if (exactness === 'year') return `${on.slice(0, 4)}-07-01`
  return on
}
