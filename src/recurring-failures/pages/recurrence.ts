import { z } from 'zod'
import { allComponents, allFailureModes, allOperations } from '../../catalogue/index.ts'
import { longDay } from '../../core/days.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { describe } from '../../platform/forms/describe.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Choice } from '../../platform/pages/field.ts'
import { Problem } from '../../platform/problems.ts'
import { analysedSoon } from '../../platform/workers/analysed.ts'
import { allFamilies, allVariants } from '../../vehicles/index.ts'
import { type Recurrence, RecurrenceQuery } from '../contract.ts'
import { type RecurrenceSeen, recurrence } from '../service/recurrence.ts'
import { whole } from './numbers.ts'
import { placesFrom } from './places.ts'
import { differenceView } from './recurrence-difference.ts'
import { groupName, recurrenceFigure, wellTold, whatRecurs } from './recurrence-view.ts'

/** A form cannot tell "any mode" from "none" by an empty field, so it asks in two. */
const Query = RecurrenceQuery.omit({ failure_mode: true }).extend({
  mode: z.string().max(200).optional().meta({ title: 'Failure mode', description: 'Empty: any.' }),
  no_mode: z.boolean().optional().meta({ title: 'Only failures of which no mode was recorded' }),
})

export function recurrencePage(pages: Pages): void {
  const shape = shapeOf(Query)
  const places = placesFrom('/recurring/recurrence')
  pageRead(pages, {
    url: '/recurring/recurrence',
    query: Query,
    refused: (ctx, { form }) => ({
      template: 'recurring-failures/recurrence',
      sheet: { title: 'How a repair recurs', nav: 'recurring' },
      view: { places, ...NOTHING_SEEN, fields: form.fields({ choices: choices(ctx) }) },
    }),
    async handle(ctx, { query }) {
      const { mode, no_mode, ...rest } = query
      const failure_mode = no_mode === true ? '' : mode
      const asked = { ...rest, ...(failure_mode !== undefined && { failure_mode }) }
      const { seen, trouble } =
        query.component || query.operation ? await tried(ctx, asked) : { seen: null, trouble: null }
      const habits = pages.habits()
      const typed = encode({ clock: 'days', ...query }, shape, habits)
      return {
        template: 'recurring-failures/recurrence',
        sheet: {
          title: 'How a repair recurs',
          ...(seen !== null && { sheet_number: counted(seen.recurrence.units, 'vehicle') }),
          subject: seen === null ? 'Repairs per vehicle by age, with limits' : whatRecurs(asked),
          ...(seen !== null && { dates: `to ${longDay(seen.recurrence.as_of)}` }),
          nav: 'recurring',
        },
        view: {
          places,
          trouble,
          heading: whatRecurs(asked),
          headline: seen === null ? null : headline(seen, whatRecurs(asked)),
          beside: seen === null ? null : besideIt(seen),
          figure: seen === null ? null : recurrenceFigure(seen, asked),
          difference: seen === null ? null : differenceView(seen, asked),
          fields: describe(shape, { typed, errors: {}, habits, choices: choices(ctx) }),
        },
      }
    },
  })
}

const NOTHING_SEEN = { trouble: null, heading: '', headline: null, beside: null, figure: null, difference: null }

/** What cannot be asked is said on the page, above the form that asked it. */
async function tried(
  ctx: Context,
  asked: RecurrenceQuery,
): Promise<{ seen: RecurrenceSeen | null; trouble: string | null }> {
  try {
    return { seen: await analysedSoon(ctx, 'recurrence', asked, recurrence), trouble: null }
  } catch (error) {
    if (error instanceof Problem && error.type === 'invalid-input') return { seen: null, trouble: error.more.detail }
    throw error
  }
}

function choices(ctx: Context): Record<string, Choice[]> {
  const names = (records: { name: string }[]) => records.map(({ name }) => ({ value: name, label: name }))
  const families = names(allFamilies(ctx))
  const variants = names(allVariants(ctx))
  return {
    component: names(allComponents(ctx)),
    mode: names(allFailureModes(ctx)),
    operation: names(allOperations(ctx)),
    family: families,
    variant: variants,
    compare_family: families,
    compare_variant: variants,
  }
}

function headline({ recurrence: { units, events, clock }, ends, well }: RecurrenceSeen, what: string): string {
  if (units === 0)
    return 'No vehicle’s age is known: import when they went into service, or when they were first registered.'
  if (events === 0)
    return `“${what}” is not recorded on any of the vehicles whose age is known: ${whole(units)} looked at.`
  return `${timesOn(events, units)} ${wellTold(well, { events, unit: unitOf(clock), end: Math.max(0, ...ends) })}`
}

/** The same of the other group; null when there is none. */
function besideIt({ recurrence: { compare, clock }, compare_well: well, compare_end }: RecurrenceSeen): string | null {
  if (compare === undefined) return null
  const { events, units } = compare
  if (events === 0) return `Beside it, ${groupName(compare)}: on none of ${counted(units, 'vehicle')} so far.`
  const told = wellTold(well, { events, unit: unitOf(clock), end: compare_end ?? 0 })
  return `Beside it, ${groupName(compare)}: ${timesOn(events, units).toLowerCase()} ${told}`
}

/** '48 times on 41 vehicles.' */
function timesOn(events: number, units: number): string {
  const often = events === 1 ? 'Once' : `${whole(events)} times`
  return `${often} on ${whole(units)} ${units === 1 ? 'vehicle' : 'vehicles'}.`
}

function unitOf(clock: Recurrence['clock']): string {
  return clock === 'days' ? 'days' : 'km'
}
