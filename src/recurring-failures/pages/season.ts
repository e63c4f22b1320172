import { allComponents, allSymptoms } from '../../catalogue/index.ts'
import { longDay, monthName } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { seasonChart } from '../../platform/pages/figures/season-chart.ts'
import { column, table } from '../../platform/pages/table.ts'
import { type Season, SeasonQuery } from '../contract.ts'
import { placeInYear, seasonTold } from '../rules/season-told.ts'
import { season } from '../service/season.ts'
import { chance, whole } from './numbers.ts'
import { placesFrom } from './places.ts'

const NAMES = Array.from({ length: 12 }, (_, month) => monthName(month + 1))

/** Whether a symptom, or the failures of a component, has a season: drawn, in words, and in figures. */
export function seasonPage(pages: Pages): void {
  const shape = shapeOf(SeasonQuery)
  const places = placesFrom('/recurring/season')
  pageRead(pages, {
    url: '/recurring/season',
    query: SeasonQuery,
    refused: (ctx, { form }) => ({
      template: 'recurring-failures/season',
      sheet: { title: 'Season', nav: 'recurring' },
      view: { places, headline: null, figure: null, fields: form.fields({ choices: choices(ctx) }) },
    }),
    handle(ctx, { query }) {
      const { symptom, component } = query
      const isAsked = symptom !== undefined || component !== undefined
      const result = isAsked ? season(ctx, query) : null
      const what = [component, symptom].filter(name => name !== undefined).join(', ')
      const habits = pages.habits()
      return {
        template: 'recurring-failures/season',
        sheet: {
          title: 'Season',
          ...(result !== null && { sheet_number: counted(sum(result.months), 'time'), subject: what }),
          ...(result !== null && { dates: `to ${longDay(result.as_of)}` }),
          nav: 'recurring',
        },
        view: {
          places,
          headline: result === null ? null : inWords(result, what),
          figure: result === null ? null : figure(result, what),
          fields: describe(shape, {
            typed: encode(query, shape, habits),
            errors: {},
            habits,
            choices: choices(ctx),
          }),
        },
      }
    },
  })
}

function choices(ctx: Context): Record<string, Choice[]> {
  const names = (records: { name: string }[]) => records.map(({ name }) => ({ value: name, label: name }))
  return { symptom: names(allSymptoms(ctx)), component: names(allComponents(ctx)) }
}

function sum(counts: readonly number[]): number {
  return counts.reduce((total, count) => total + count, 0)
}

function inWords(result: Season, what: string): string {
  const { months, jobs, mean_direction_deg, p } = result
  const told = seasonTold(result)
  const count = sum(months)
  if (told === 'cannot_tell')
    return count > sum(jobs)
      ? `Cannot tell: “${what}” came ${counted(count, 'time')}, more often than there are jobs of which the months are known (${whole(sum(jobs))}).`
      : `Cannot tell: “${what}” came ${counted(count, 'time')}; fewer than five may lie anywhere in the year.`
  const where = mean_direction_deg === null ? 'nowhere in the year' : `around ${placeWords(mean_direction_deg)}`
  const of100 = Math.round(p * 100)
  const luck = `chance would do as much in ${of100 < 1 ? 'fewer than 1' : of100} of 100 draws from the months of all jobs (p ${chance(p)})`
  return told === 'season'
    ? `“${what}” has a season: it lies ${where}. It is more than the season of the work itself: ${luck}.`
    : `“${what}” is not shown to have a season of its own: it points ${where}, but ${luck}.`
}

/** 'mid February'. */
function placeWords(degrees: number): string {
  const { third, month } = placeInYear(degrees)
  return `${third} ${monthName(month)}`
}

function figure(result: Season, what: string) {
  const { months, jobs, peak_month, mean_direction_deg, resultant_length } = result
  const all = sum(jobs)
  const count = sum(months)
  const peak = peak_month === null ? 'no month' : monthName(peak_month)
  return {
    drawings: seasonChart({
      id: 'season',
      title: `${what} by month`,
      description: `${months.map((number, month) => `${NAMES[month]} ${number}`).join(', ')}. The middle of it lies in ${peak}.`,
      names: NAMES,
      counts: months,
      expected: jobs.map(number => (all === 0 ? 0 : (number * count) / all)),
      direction: mean_direction_deg,
    }),
    caption: `Dots, or filled bars from thirty on: how often it came. Open bars: as often as it would come if only the shop’s work had a season. Peak month: ${peak}; all in one month would be a strength of 1, evenly over the year 0: here ${resultant_length.toFixed(2)}.`,
    table: table({
      columns: [column('Month'), column(what, 'figure'), column('All jobs', 'figure')],
      rows: [
        ...NAMES.map((name, month) => ({ cells: [name, whole(months[month]!), whole(jobs[month]!)] })),
        { grand: true, cells: ['The year', whole(count), whole(all)] },
      ],
      stacks: false,
    }),
  }
}
