import { z } from 'zod'
import type { Context } from '../../platform/context.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { ComponentInput } from '../contract.ts'
import { componentById, createComponent, updateComponent } from '../service/components.ts'
import { componentChoices, operationChoices, stepChoices, symptomChoices } from './choices.ts'

/** As the contract; a form in which nothing of a list is ticked sends no list. */
const ComponentForm = z.strictObject({
  ...ComponentInput.shape,
  causes: ComponentInput.shape.causes.optional(),
  access_step_ids: ComponentInput.shape.access_step_ids.optional(),
})

function whole(input: z.infer<typeof ComponentForm>): ComponentInput {
  return { ...input, causes: input.causes ?? [], access_step_ids: input.access_step_ids ?? [] }
}

export function componentForms(pages: Pages): void {
  pageForm(pages, {
    url: '/catalogue/components/new',
    roles: [],
    contract: ComponentForm,
    page: (ctx, { form }) =>
      formPage(ctx, form, { title: 'Add a component', action: '/catalogue/components/new', button: 'Add', own: null }),
    submit(ctx, input) {
      createComponent(ctx, whole(input))
      return { to: '/catalogue', notice: `“${input.name}” is in the catalogue.` }
    },
  })

  pageForm(pages, {
    url: '/catalogue/components/:id/edit',
    roles: [],
    contract: ComponentForm,
    initial(ctx, { params }) {
      const { version, ...component } = componentById(ctx, params.id)
      return { values: component, version }
    },
    page(ctx, { params, form }) {
      const { id, name } = componentById(ctx, params.id)
      return formPage(ctx, form, {
        title: `Put right: ${name}`,
        action: `/catalogue/components/${id}/edit`,
        button: 'Put right',
        own: name,
      })
    },
    submit(ctx, input, { params, version }) {
      updateComponent(ctx, params.id, version, patchFromForm(ComponentInput, whole(input)))
      return { to: '/catalogue', notice: 'Put right.' }
    },
  })
}

function formPage(
  ctx: Context,
  form: FormState,
  more: { title: string; action: string; button: string; own: string | null },
): PageAnswer {
  const causes = symptomChoices(ctx)
  const access_step_ids = stepChoices(ctx)
  const not_before = componentChoices(ctx).filter(({ value }) => value !== more.own)
  return {
    template: 'catalogue/component-form',
    sheet: { title: more.title },
    view: {
      fields: form.fields({
        choices: { causes, access_step_ids, not_before, remedy_operation_id: operationChoices(ctx) },
      }),
      has_symptoms: causes.length > 0,
      has_steps: access_step_ids.length > 0,
      has_others: not_before.length > 0,
      action: more.action,
      button: more.button,
    },
  }
}
