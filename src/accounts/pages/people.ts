import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { ROLES } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { fromInstant } from '../../platform/wire.ts'
import { PersonInput } from '../contract.ts'
import { addPersonWith, listAccounts, preparePassword } from '../service.ts'

const MOST_PEOPLE = 500

/** Who may sign in or use the API, and a form to add somebody. The one-time password is said once, after adding. */
export function peoplePages(pages: Pages): void {
  pageForm(pages, {
    url: '/people',
    roles: [],
    contract: PersonInput,
    page: (ctx, { form }) => ({
      template: 'accounts/people',
      sheet: { title: 'People' },
      view: { fields: form.fields(), people: peopleTable(ctx, pages.habits().time_zone) },
    }),
    prepare: () => preparePassword(),
    submit(ctx, input, { prepared }) {
      addPersonWith(ctx, input, prepared)
      return {
        to: '/people',
        notice: `${input.name} can sign in with ${prepared.password} once, and then chooses a password.`,
      }
    },
  })
}

const KIND_WORDS = { person: 'signs in', token: 'a token of the API' }

function peopleTable(ctx: Context, timeZone: string) {
  const people = listAccounts(ctx, MOST_PEOPLE, null)
  return table({
    columns: [column('Name'), column('Role'), column('How'), column('Since', 'date')],
    rows: ROLES.toReversed().flatMap(role =>
      people
        .filter(person => person.role === role)
        .map(person => ({
          cells: [
            person.name,
            person.role,
            KIND_WORDS[person.kind],
            shortDay(localDateOf(fromInstant(person.created_at), timeZone)),
          ],
        })),
    ),
  })
}
