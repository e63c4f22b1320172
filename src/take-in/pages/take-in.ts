import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { allOperations } from '../../catalogue/index.ts'
import { weekdayAndDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { askAboutNewNames, type TypedName } from '../../platform/forms/new-names.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { typedOf } from '../../platform/http/form-on-page.ts'
import { type FormState, freshForm } from '../../platform/http/form-state.ts'
import { pagePost, pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { small, words } from '../../platform/pages/words.ts'
import { invalid } from '../../platform/problems.ts'
import { vehicleById } from '../../vehicles/index.ts'
import { TakeInForm } from '../contract.ts'
import { flagsOf } from '../service/flags.ts'
import { takeIn } from '../service/take-in.ts'
import { searched } from './find-box.ts'
import type { Leads } from './found.ts'
import { penOf } from './pen.ts'
import { symptomsTyped } from './symptom-fields.ts'
import { takeInFormPage } from './take-in-form.ts'

const Asked = z.strictObject({
  q: z.string().max(200).optional(),
  vehicle: z.string().max(100).optional(),
  customer: z.string().max(100).optional(),
  who: z.string().max(200).optional(),
})

/** Taking in: find the vehicle, then what the record says and what the customer says. */
export function takeInFormPages(pages: Pages): void {
  const shape = shapeWhenNeeded(TakeInForm)
  pageRead(pages, {
    url: '/take-in',
    roles: ['desk'],
    query: Asked,
    handle(ctx, { query: { q = '', vehicle, customer, who = '' } }) {
      if (vehicle === undefined) return findFirst(ctx, q)
      const keeper = vehicleById(ctx, vehicle).keeper_id
      const customer_id = customer ?? keeper
      const values = { vehicle_id: vehicle, customer_id, arrived: 'runs', keeps_it: keeper === undefined }
      return takeInFormPage(ctx, vehicle, freshForm(shape(), pages.habits(), { values }), who)
    },
  })
  pagePost(pages, {
    url: '/take-in',
    roles: ['desk'],
    contract: TakeInForm,
    page: (ctx, { form }) => takeInFormPage(ctx, vehicleTyped(form), form, ''),
    submit(ctx, input, { new_names }) {
      askAboutNewNames(new_names, [...symptomsTyped(ctx, input), ...operationsTyped(ctx, input)])
      const order = takeIn(ctx, input)
      const odd = flagsOf(ctx, { vehicle_id: order.vehicle_id, order }).find(({ reason }) => reason === 'odometer')
      const notice = [`Taken in as ${order.number}.`, odd?.sentence].filter(Boolean).join(' ')
      return { to: `/work-orders/${order.id}`, notice }
    },
  })
}

function operationsTyped(ctx: Context, { prior_works = [] }: TakeInForm): TypedName[] {
  const known = allOperations(ctx)
  return prior_works.map(({ operation }, place) => {
    const pointer = `/prior_works/${place}/operation`
    return { pointer, what: 'operation', name: operation, known }
  })
}

function vehicleTyped({ typed }: FormState): string {
  const id = typedOf(typed, 'vehicle_id')
  if (id !== '') return id
  throw invalid({ pointer: '/vehicle_id', detail: 'Find the vehicle first.', code: 'missing' })
}

function findFirst(ctx: Context, q: string): PageAnswer | { to: string } {
  const pen = penOf(settingsOf(ctx))
  const search = searched(ctx, q, pen, TO_THE_FORM)
  if ('to' in search) return search
  return {
    template: 'take-in/find',
    sheet: {
      title: 'Take in',
      nav: 'take-in',
      sheet_number: words(small('first the vehicle, then what is wrong with it')),
      subject: 'Find the vehicle first; a scanner types into the same box.',
      dates: weekdayAndDay(pen.dayOf(ctx.clock.now())),
      scripts: ['box.js'],
    },
    view: {
      q,
      ...search,
    },
  }
}

function toForm(vehicleId: string): string {
  return `/take-in?vehicle=${encodeURIComponent(vehicleId)}`
}

/** Whatever is found while taking in leads to the form: of its vehicle, or for a new one of that customer. */
const TO_THE_FORM: Leads = {
  order: order => toForm(order.vehicle_id),
  vehicle: toForm,
  customer: id => `/take-in/new?customer=${encodeURIComponent(id)}`,
}
