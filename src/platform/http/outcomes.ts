import { invalid } from '../problems.ts'
import type { Outcome, PageAsked } from './api-route.ts'

/** The outcome of a record that people edit: its `version` is its ETag. */
export function versioned<T extends { version: number }>(record: T): Outcome<T> {
  return { record, version: record.version }
}

/** How many records came before: for lists whose order is not that of the ids. 422 for a cursor that is none of ours. */
export function skipOf(page: PageAsked): number {
  if (page.cursor === null) return 0
  if (/^\d{1,9}$/.test(page.cursor)) return Number(page.cursor)
  const detail = 'This must be the next_cursor of the page before, unchanged.'
  throw invalid({ pointer: '/cursor', detail, code: 'invalid_cursor' })
}
