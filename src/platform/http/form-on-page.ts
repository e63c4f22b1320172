import type { z } from 'zod'
import type { Typed } from '../forms/names.ts'
import { shapeOf } from '../forms/shape.ts'
import type { Choice, FieldView } from '../pages/field.ts'
import { type FormState, freshForm } from './form-state.ts'
import type { Pages } from './pages.ts'

/**
 * One of several forms on a page. The one that came back keeps its ids, to which the error summary links; the others get
 * the form's name before theirs, since an id stands on a page once.
 */
export interface FormOnPage {
  /** Null while nobody has sent it. */
  back: FormState | null
  fields(values: object, choices?: Record<string, Choice[]>): Record<string, FieldView>
}

/** `name` goes before the ids of a fresh form. */
export function formOnPage(pages: Pages, contract: z.ZodType, name: string, back: FormState | null): FormOnPage {
  return {
    back,
    fields(values, choices = {}) {
      if (back !== null) return back.fields({ choices })
      const fresh = freshForm(shapeOf(contract), pages.habits(), { values }).fields({ choices })
      return Object.fromEntries(
        Object.entries(fresh).map(([field, view]) => [field, { ...view, id: `${name}-${view.id}` }]),
      )
    },
  }
}

/** What a control of a form that came back held. */
export function typedOf(typed: Typed, name: string): string {
  return [typed[name] ?? ''].flat()[0] ?? ''
}
