import { z } from 'zod'
import type { Context } from '../../platform/context.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { mayBeLeftOut } from '../../platform/pages/field.ts'
import { OperationInput } from '../contract.ts'
import { createOperation, operationById, updateOperation } from '../service/operations.ts'
import { componentChoices, lines, orNone, procedureChoices, stepChoices } from './choices.ts'

/** Empty rows after those that are filled in. */
const SPARE = 2

/** As the contract; a form with nothing in a list sends no list. */
const OperationForm = z.strictObject({
  ...OperationInput.shape,
  access_step_ids: OperationInput.shape.access_step_ids.optional(),
  joints: OperationInput.shape.joints.optional(),
  looks: OperationInput.shape.looks.optional(),
  final_checks: OperationInput.shape.final_checks.optional(),
})

function whole(input: z.infer<typeof OperationForm>): OperationInput {
  const { access_step_ids = [], joints = [], looks = [], final_checks = [], marks = [], tools = [], ...rest } = input
  return { ...rest, access_step_ids, joints, looks, final_checks, marks, tools }
}

export function operationForms(pages: Pages): void {
  pageForm(pages, {
    url: '/catalogue/operations/new',
    roles: [],
    contract: OperationForm,
    page: (ctx, { form }) =>
      formPage(ctx, form, { title: 'Add an operation', action: '/catalogue/operations/new', button: 'Add' }),
    submit(ctx, input) {
      createOperation(ctx, whole(input))
      return { to: '/catalogue', notice: `“${input.name}” is in the catalogue.` }
    },
  })

  pageForm(pages, {
    url: '/catalogue/operations/:id/edit',
    roles: [],
    contract: OperationForm,
    initial(ctx, { params }) {
      const { version, ...operation } = operationById(ctx, params.id)
      return { values: operation, version }
    },
    page(ctx, { params, form }) {
      const { id, name } = operationById(ctx, params.id)
      return formPage(ctx, form, {
        title: `Put right: ${name}`,
        action: `/catalogue/operations/${id}/edit`,
        button: 'Put right',
      })
    },
    submit(ctx, input, { params, version }) {
      updateOperation(ctx, params.id, version, patchFromForm(OperationInput, whole(input)))
      return { to: '/catalogue', notice: 'Put right. Jobs keep the operation as it was.' }
    },
  })
}

function formPage(ctx: Context, form: FormState, more: { title: string; action: string; button: string }): PageAnswer {
  const steps = stepChoices(ctx)
  const severities = ['safety', 'breakdown', 'nuisance'].map(word => ({ value: word, label: word }))
  const choices = {
    access_step_ids: steps,
    procedure_id: orNone(procedureChoices(ctx)),
    behind_step_id: orNone(steps),
    before_step_id: orNone(steps),
    for_step_id: orNone(steps),
    component: orNone(componentChoices(ctx)),
    severity: orNone(severities),
  }
  const rows = (list: 'joints' | 'looks' | 'marks' | 'tools') =>
    Array.from({ length: form.rows(list, 0) + SPARE }, (_, row) =>
      mayBeLeftOut(form.fields({ at: [list, row], choices })),
    )
  return {
    template: 'catalogue/operation-form',
    sheet: { title: more.title },
    view: {
      fields: form.fields({ choices }),
      has_steps: steps.length > 0,
      joints: rows('joints'),
      looks: rows('looks'),
      marks: rows('marks'),
      tools: rows('tools'),
      final_checks: lines(form.typed, 'final_checks', 'Final check', SPARE),
      action: more.action,
      button: more.button,
    },
  }
}
