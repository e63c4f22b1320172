import type { Context } from '../../platform/context.ts'
import { decode } from '../../platform/forms/decode.ts'
import { askAboutNewNames } from '../../platform/forms/new-names.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { typedOf } from '../../platform/http/form-on-page.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { act, words } from '../../platform/pages/words.ts'
import { allFamilies, allVariants, customerById } from '../../vehicles/index.ts'
import { NewcomerForm } from '../contract.ts'
import { addNewcomer, alreadyHere } from '../service/take-in.ts'

/** A vehicle that nobody has seen here before and whoever brings it, in one form; then the form of every stay. */
export function newcomerPage(pages: Pages): void {
  pageForm(pages, {
    url: '/take-in/new',
    roles: ['desk'],
    contract: NewcomerForm,
    initial: (_ctx, { query }) => ({
      values: {
        odometer_unit: 'km',
        plate: query.plate,
        vin: query.vin,
        customer_id: query.customer,
        customer: { name: query.name, phone: query.phone },
      },
    }),
    page(ctx, { form }) {
      const known = typedOf(form.typed, 'customer_id')
      return {
        template: 'take-in/newcomer',
        sheet: { title: 'Take in', sheet_number: 'new here', nav: 'take-in' },
        view: {
          fields: form.fields(),
          customer: form.fields({ at: ['customer'] }),
          here:
            form.errors.another_vehicle === undefined && form.errors.another_person === undefined
              ? null
              : hereAlready(ctx, form),
          known: known === '' ? null : { id: known, name: customerById(ctx, known).name },
          names: {
            families: allFamilies(ctx).map(({ name }) => name),
            variants: allVariants(ctx).map(({ name }) => name),
          },
        },
      }
    },
    submit(ctx, input, { new_names }) {
      askAboutNewNames(new_names, [
        { pointer: '/family', what: 'family', name: input.family, known: allFamilies(ctx) },
        { pointer: '/variant', what: 'variant', name: input.variant, known: allVariants(ctx) },
      ])
      const vehicle = addNewcomer(ctx, input)
      const odd = vehicle.warnings.map(warning => warning.detail)
      return { to: `/take-in?vehicle=${vehicle.id}`, ...(odd.length > 0 && { notice: odd.join(' ') }) }
    },
  })
}

const shape = shapeWhenNeeded(NewcomerForm)

/** What is in the book already of that which was typed, each with the way to go on with it. */
function hereAlready(ctx: Context, { typed }: FormState) {
  const { vehicles, customers } = alreadyHere(ctx, decode(typed, shape()) as Partial<NewcomerForm>)
  const numbers = Object.fromEntries(
    (['plate', 'vin'] as const).map(name => [name, typedOf(typed, name)]).filter(([, value]) => value !== ''),
  )
  return [
    ...vehicles.map(({ id, title, family, keeper }) => ({
      word: 'Here before',
      text: words(`${title}, ${family}${keeper === undefined ? '' : `, kept by ${keeper.name}`}. `),
      why: words(act(`/take-in?vehicle=${encodeURIComponent(id)}`, 'It is this one: take it in')),
    })),
    ...customers.map(({ id, name, phone }) => ({
      word: 'In the book',
      text: words(phone === undefined ? `${name}.` : `${name}, ${phone}.`),
      why: words(act(`/take-in/new?${new URLSearchParams({ ...numbers, customer: id })}`, 'It is this person')),
    })),
  ]
}
