import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { CAUSE_CATEGORIES } from '../../core/vocabulary.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { penOf } from '../../platform/pages/pen.ts'
import { type Cell, column, type Row, table } from '../../platform/pages/table.ts'
import { act, words } from '../../platform/pages/words.ts'
import { invalid } from '../../platform/problems.ts'
import { type LossCause, type LossCauseInput, LossForm } from '../contract.ts'
import { lossById, lossesTold, recordLossCause } from '../service/losses.ts'
import { oneCategory } from './one-category.ts'
import { category, stayLink } from './words.ts'

/** Work done twice before the vehicle ever left, and why. */
export function lossesPages(pages: Pages): void {
  pageRead(pages, {
    url: '/comebacks/losses',
    handle(ctx) {
      const told = lossesTold(ctx)
      const undecided = told.filter(({ loss }) => loss.causes.length === 0).length
      return {
        template: 'comebacks/losses',
        sheet: {
          title: 'Work done twice',
          sheet_number: `${undecided} to explain`,
          subject:
            'Strip-down that was opened again at our cost before the vehicle left. Nobody came back: it is a loss, not a comeback.',
          nav: 'comebacks',
        },
        view: { losses: lossesTable(told, pages.habits(), ctx.actor?.role === 'owner') },
      }
    },
  })

  pageForm(pages, {
    url: '/comebacks/losses/:id',
    roles: [],
    contract: LossForm,
    initial: (ctx, { params }) => ({ values: asTyped(lossById(ctx, params.id).causes.at(-1)) }),
    page(ctx, { params, form }) {
      const loss = lossById(ctx, params.id)
      const { supersedes: _, ...fields } = form.fields({
        choices: { category: CAUSE_CATEGORIES.map(word => ({ value: word, label: category(word) })) },
      })
      return {
        template: 'comebacks/form',
        sheet: { title: 'Why was it done twice?', nav: 'comebacks' },
        view: {
          heading: 'The cause',
          says: `${loss.steps.join(', ')}, opened again: ${loss.reason ?? 'no reason was given'}.`,
          fields: [
            ...Object.values(fields),
            { type: 'hidden', name: 'supersedes', value: loss.causes.at(-1)?.id ?? '' },
          ],
          action: `/comebacks/losses/${encodeURIComponent(params.id)}`,
          button: 'Keep the cause',
          back: '/comebacks/losses',
          cost: null,
        },
      }
    },
    submit(ctx, input, { params }) {
      recordLossCause(ctx, params.id, causeOf(input))
      return { to: '/comebacks/losses', notice: 'The cause is kept.' }
    },
  })
}

function causeOf({ what_failed, why_failed, why_possible, supersedes, ...input }: LossForm): LossCauseInput {
  const word = oneCategory(input)
  if (word === undefined)
    throw invalid({ pointer: '/category', detail: 'Choose a cause, or write one.', code: 'missing' })
  return {
    category: word,
    root_cause: [what_failed, why_failed, why_possible].flatMap(line => line ?? []),
    ...(supersedes !== undefined && { supersedes }),
  }
}

/** The form begins with what was decided before. */
function asTyped(standing: LossCause | undefined): object {
  if (standing === undefined) return {}
  const [what_failed, why_failed, why_possible] = standing.root_cause
  const isReady = (CAUSE_CATEGORIES as readonly string[]).includes(standing.category)
  return { [isReady ? 'category' : 'other_category']: standing.category, what_failed, why_failed, why_possible }
}

function lossesTable(told: ReturnType<typeof lossesTold>, habits: Habits, mayDecide: boolean) {
  const pen = penOf(habits)
  return table({
    columns: [
      column('When', 'date'),
      column('Vehicle'),
      column('Opened again'),
      column('Hours', 'figure'),
      column('Cost', 'figure'),
      column('Cause'),
    ],
    rows: told.map(
      ({ loss, stay }): Row => ({
        signed: loss.causes.length > 0,
        cells: [
          shortDay(localDateOf(Date.parse(loss.at), habits.time_zone)),
          words(`${stay.title} (`, stayLink(stay), ')'),
          { text: loss.steps.join(', '), notes: [loss.reason ?? 'no reason was given'] },
          pen.number(loss.hours),
          pen.money(loss.labour_minor),
          causeCell(loss, mayDecide),
        ],
      }),
    ),
    empty: 'Nothing was opened again at our cost.',
  })
}

function causeCell({ id, causes }: { id: string; causes: readonly LossCause[] }, mayDecide: boolean): Cell {
  const standing = causes.at(-1)
  const href = `/comebacks/losses/${encodeURIComponent(id)}`
  const decide = mayDecide ? [' ', act(href, standing === undefined ? 'Say why' : 'Change it')] : []
  if (standing === undefined) return words('not explained yet', ...decide)
  return {
    text: words(category(standing.category), ...decide),
    notes: [
      ...(standing.root_cause.length === 0 ? [] : [standing.root_cause.join('; ')]),
      ...causes.slice(0, -1).map(({ category: word }) => words('before: ', { text: category(word), struck: true })),
    ],
  }
}
