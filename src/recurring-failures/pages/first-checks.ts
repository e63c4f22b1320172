import { z } from 'zod'
import { allSymptoms } from '../../catalogue/index.ts'
import { monthName } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { checksTable } from '../../platform/pages/checks-table.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { allFamilies } from '../../vehicles/index.ts'
import { SymptomToCheck } from '../contract.ts'
import { checkLines, checksInWords, standingCautions } from '../rules/checks-in-words.ts'
import { firstChecksFor } from '../service/first-checks.ts'
import { placesFrom } from './places.ts'

/** Nothing is asked until both the symptom and the family are named. */
const Query = z.strictObject({
  symptom: SymptomToCheck.shape.symptom.optional().meta({ title: 'Symptom' }),
  family: SymptomToCheck.shape.family.optional().meta({ title: 'Family' }),
  season_month: SymptomToCheck.shape.season_month.unwrap().optional().meta({
    title: 'Month',
    description: 'With its two neighbours. Left out: the whole year.',
  }),
})

/** What to check first, asked without a work order: symptom, family and month in, the order of the checks out. */
export function firstChecksPage(pages: Pages): void {
  const shape = shapeOf(Query)
  const places = placesFrom('/recurring/first-checks')
  pageRead(pages, {
    url: '/recurring/first-checks',
    query: Query,
    refused: (ctx, { form }) => ({
      template: 'recurring-failures/first-checks',
      sheet: { title: 'What to check first', nav: 'recurring' },
      view: { places, asked: null, fields: form.fields({ choices: choices(ctx) }) },
    }),
    handle(ctx, { query }) {
      const { symptom, family, season_month } = query
      const habits = pages.habits()
      return {
        template: 'recurring-failures/first-checks',
        sheet: {
          title: 'What to check first',
          ...(symptom !== undefined && family !== undefined && { subject: `${symptom} · ${family}` }),
          ...(season_month !== undefined && { dates: `around ${monthName(season_month)}` }),
          nav: 'recurring',
        },
        view: {
          places,
          asked: symptom === undefined || family === undefined ? null : answer(ctx, { ...query, symptom, family }),
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

function answer(ctx: Context, asked: SymptomToCheck) {
  const checks = firstChecksFor(ctx, asked)
  return {
    says:
      checks.checks.length === 0
        ? 'Nobody has found a cause of it yet, and the catalogue names none.'
        : checksInWords(checks),
    cautions: standingCautions(checks),
    checks: checks.checks.length === 0 ? null : checksTable(checkLines(checks)),
  }
}

function choices(ctx: Context): Record<string, Choice[]> {
  const names = (records: { name: string }[]) => records.map(({ name }) => ({ value: name, label: name }))
  return {
    symptom: names(allSymptoms(ctx)),
    family: names(allFamilies(ctx)),
    season_month: Array.from({ length: 12 }, (_, month) => ({
      value: String(month + 1),
      label: monthName(month + 1),
    })),
  }
}
