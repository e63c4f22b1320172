import { addDays } from '../../core/calendar.ts'
import { type FieldError, problem } from '../../platform/problems.ts'
import { ofName } from '../queries.ts'

/** 409 when another tool of the kind has the name, whatever its case. `what`: 'wrench'. */
export function refuseTakenName(
  what: string,
  rows: { id: string; name: string }[],
  name: string,
  ownId?: string,
): void {
  const other = ofName(rows, name)
  if (other === undefined || other.id === ownId) return
  const article = /^[aeiou]/.test(what) ? 'an' : 'a'
  const detail = `There is ${article} ${what} called “${other.name}” already.`
  throw problem('name-taken', { detail, errors: [{ pointer: '/name', detail, code: 'taken' }] })
}

/** A certificate of a day to come. Where it was written it may be tomorrow already. */
export function futureFaults(madeOn: string, today: string): FieldError[] {
  if (madeOn <= addDays(today, 1)) return []
  return [
    {
      pointer: '/made_on',
      detail: 'This day lies in the future. Give the day on the certificate.',
      code: 'future',
    },
  ]
}
