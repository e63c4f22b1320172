import { z } from 'zod'
import type { Context } from '../../platform/context.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { type AccessStepInput, AccessStepInput as Contract } from '../contract.ts'
import { accessStepById, createAccessStep, updateAccessStep } from '../service/access-steps.ts'
import { componentChoices, stepChoices } from './choices.ts'

/** As the contract; a form in which nothing of a list is ticked sends no list. */
const AccessStepForm = z.strictObject({
  ...Contract.shape,
  needs: Contract.shape.needs.optional(),
  exposes: Contract.shape.exposes.optional(),
  disturbs: Contract.shape.disturbs.optional(),
})

function whole(input: z.infer<typeof AccessStepForm>): AccessStepInput {
  return { ...input, needs: input.needs ?? [], exposes: input.exposes ?? [], disturbs: input.disturbs ?? [] }
}

export function accessStepForms(pages: Pages): void {
  pageForm(pages, {
    url: '/catalogue/access-steps/new',
    roles: [],
    contract: AccessStepForm,
    page: (ctx, { form }) =>
      formPage(ctx, form, {
        title: 'Add a strip-down step',
        action: '/catalogue/access-steps/new',
        button: 'Add',
        own: null,
      }),
    submit(ctx, input) {
      createAccessStep(ctx, whole(input))
      return { to: '/catalogue', notice: `“${input.name}” is in the catalogue.` }
    },
  })

  pageForm(pages, {
    url: '/catalogue/access-steps/:id/edit',
    roles: [],
    contract: AccessStepForm,
    initial(ctx, { params }) {
      const { version, ...step } = accessStepById(ctx, params.id)
      return { values: step, version }
    },
    page(ctx, { params, form }) {
      const { id, name } = accessStepById(ctx, params.id)
      return formPage(ctx, form, {
        title: `Put right: ${name}`,
        action: `/catalogue/access-steps/${id}/edit`,
        button: 'Put right',
        own: id,
      })
    },
    submit(ctx, input, { params, version }) {
      updateAccessStep(ctx, params.id, version, whole(input))
      return { to: '/catalogue', notice: 'Put right. Jobs keep the step as it was.' }
    },
  })
}

function formPage(
  ctx: Context,
  form: FormState,
  more: { title: string; action: string; button: string; own: string | null },
): PageAnswer {
  const components = componentChoices(ctx)
  const needs = stepChoices(ctx).filter(({ value }) => value !== more.own)
  return {
    template: 'catalogue/access-step-form',
    sheet: { title: more.title },
    view: {
      fields: form.fields({ choices: { needs, exposes: components, disturbs: components } }),
      has_steps: needs.length > 0,
      has_components: components.length > 0,
      action: more.action,
      button: more.button,
    },
  }
}
