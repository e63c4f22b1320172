import { capital, countWord } from '../../core/words.ts'

export type FieldType =
  | 'text'
  | 'number'
  | 'textarea'
  | 'select'
  | 'radios'
  | 'checkbox'
  | 'checkboxes'
  | 'date'
  | 'datetime-local'
  | 'password'
  | 'file'
  | 'hidden'

export interface Choice {
  value: string
  label: string
  selected?: boolean
  hint?: string
}

/** One question of a form, as partials/field.hbs prints it. Numbers are text, so that '12,5' comes back as it was typed. */
export interface FieldView {
  /** Also the id of the first control, to which the error summary links. Hint and error get `<id>-hint`, `<id>-problem`. */
  id: string
  name: string
  label: string
  hint?: string
  type: FieldType
  inputmode?: 'text' | 'decimal' | 'numeric' | 'tel' | 'email' | 'search'
  required: boolean
  min?: number | string
  max?: number | string
  max_length?: number
  options?: Choice[]
  /** As typed or as stored; a checkbox is ticked for true, 'true' or 'on'. */
  value?: string | number | boolean | null
  unit?: string
  /** The id of a name-list on the page: names to choose from, where a new one may be typed too. */
  list?: string
  /** What is wrong, to follow 'Put right:'. */
  error?: string
  /** Beneath a name that is unknown: the near ones, or a new one. */
  asks?: { id: string; name: string; label: string; options: Choice[] }
  /** Of the field: 'short', 'medium', 'plate-field', 'reading'. */
  classes?: string
  rows?: number
  autocomplete?: string
  /** Of a file: which kinds the chooser offers, and whether the camera opens at once. */
  accept?: string
  capture?: 'environment' | 'user'
}

export interface ErrorSummaryView {
  heading: string
  /** `field` is the id of the first control. */
  errors: { field: string; text: string }[]
}

/** The summary that stands first in main when a form comes back. */
export function errorSummary(errors: { field: string; text: string }[]): ErrorSummaryView {
  const things = errors.length === 1 ? 'thing' : 'things'
  return { heading: `${capital(countWord(errors.length))} ${things} to put right`, errors }
}

/** The fields of a part of a form that may be left empty as a whole: none of them is asked for. */
export function mayBeLeftOut(fields: Record<string, FieldView>): Record<string, FieldView> {
  return Object.fromEntries(Object.entries(fields).map(([name, field]) => [name, { ...field, required: false }]))
}
