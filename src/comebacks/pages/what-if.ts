import { allComponents, allOperations } from '../../catalogue/index.ts'
import { longDay } from '../../core/days.ts'
import { formatMinor } from '../../core/money.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import type { Habits } from '../../platform/forms/decode.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { link, words } from '../../platform/pages/words.ts'
import { type WhatIf, WhatIfQuery } from '../contract.ts'
import { whatIfLookedAt } from '../service/what-if.ts'

/** Empty at first; asked whole or not at all. */
const Query = WhatIfQuery.partial()

/** What a look that is not there yet would cost, and what it might have caught. */
export function whatIfPage(pages: Pages): void {
  const shape = shapeOf(WhatIfQuery)
  const sheet = {
    title: 'What if we looked each time?',
    subject:
      'What a look on every such job would take, and the comebacks that it might have caught: by our own history.',
    nav: 'comebacks' as const,
  }
  pageRead(pages, {
    url: '/comebacks/what-if',
    query: Query,
    refused: (ctx, { form }) => ({
      template: 'comebacks/what-if',
      sheet,
      view: { answer: null, fields: form.fields({ choices: choicesOf(ctx) }) },
    }),
    handle(ctx, { query }) {
      const habits = pages.habits()
      const { operation, component, minutes } = query
      const isWhole = operation !== undefined && component !== undefined && minutes !== undefined
      const answer = isWhole ? whatIfLookedAt(ctx, { operation, component, minutes }) : null
      return {
        template: 'comebacks/what-if',
        sheet: { ...sheet, ...(answer !== null && { dates: `to ${longDay(answer.as_of)}` }) },
        view: {
          answer: answer === null ? null : sentences(answer, habits),
          note: answer === null ? null : noteOf(ctx, answer),
          fields: describe(shape, {
            typed: encode({ minutes: 5, ...query }, shape, habits),
            errors: {},
            habits,
            choices: choicesOf(ctx),
          }),
        },
      }
    },
  })
}

function choicesOf(ctx: Context) {
  const named = (names: readonly { name: string }[]) => names.map(({ name }) => ({ value: name, label: name }))
  return { operation: named(allOperations(ctx)), component: named(allComponents(ctx)) }
}

function sentences(answer: WhatIf, { currency, locale }: Habits) {
  const { jobs, years, minutes_a_year, cost_a_year_minor, caught, caught_a_year, lower, upper } = answer
  const money = (minor: number) => formatMinor(minor, currency, locale)
  if (
    minutes_a_year === null ||
    cost_a_year_minor === null ||
    caught_a_year === null ||
    lower === null ||
    upper === null
  )
    return [{ word: 'Cannot tell', text: 'No job has been handed back before today.' }]
  return [
    {
      word: 'It takes',
      text: `${(minutes_a_year / 60).toFixed(1)} hours a year: ${money(cost_a_year_minor)} a year at the cost rate.`,
    },
    {
      word: 'It might catch',
      text: `${caught_a_year.toFixed(1)} comebacks a year (${lower.toFixed(1)} to ${upper.toFixed(1)}) at best.${costWords(answer, money)}`,
    },
    {
      word: 'It rests on',
      text: `${counted(jobs, 'job')} in ${years.toFixed(1)} years; ${caught} of them came back with it failed.`,
    },
  ]
}

/** A year, as all the rest is. */
function costWords(answer: WhatIf, money: (minor: number) => string): string {
  const { caught, returns_costed, returns_cost_a_year_minor: cost } = answer
  if (returns_costed === 0 || cost === null) return ''
  const known = returns_costed === caught ? '' : `, counting the ${returns_costed} of ${caught} whose cost is known`
  if (cost < 0) return ` They brought back ${money(-cost)} a year more than they cost us${known}.`
  return ` They cost us ${money(cost)} a year${known}.`
}

function noteOf(ctx: Context, { is_asked_for }: WhatIf) {
  const says =
    'A look finds what is there to be seen on the day, and not every failure is. A look at a safety component is worth it whatever it costs.'
  if (is_asked_for) return words(`${says} Every job of it asks for this look already.`)
  return ctx.actor?.role === 'owner'
    ? words(`${says} `, link('/comebacks/actions/new', 'Put the look on the operation'))
    : words(says)
}
