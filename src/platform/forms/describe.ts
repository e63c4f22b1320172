import type { Choice, FieldType, FieldView } from '../pages/field.ts'
import type { Habits } from './decode.ts'
import { idOfPath, nameOfPath, type Typed } from './names.ts'
import { choiceName, nameChoices } from './new-names.ts'
import { inWords, type Shape, wordsOf } from './shape.ts'
import type { AskedName } from './summary.ts'

export interface DescribeOptions {
  typed: Typed
  /** By name of the control (`lines[0][quantity]`): what is wrong with it. */
  errors: Record<string, string>
  /** By name of the control: names that are unknown, to be asked about beneath it. */
  asked?: Record<string, AskedName>
  habits: Habits
  /** Choices that only the database knows (wrenches, parts), by name: the field becomes a list. */
  choices?: Record<string, Choice[]>
  /** Where an object's fields stand in the form: ['lines', 0]. */
  at?: (string | number)[]
}

/**
 * The fields of one object of a contract, by name, in the contract's order, each as partials/field.hbs prints it: label,
 * hint, kind of control, limits, choices, and what was typed. Lists of objects are left out: a page describes each row with `at`.
 */
export function describe(shape: Shape, options: DescribeOptions): Record<string, FieldView> {
  const fields: Record<string, FieldView> = {}
  for (const [name, field] of shape.fields) {
    if (field.kind === 'object' || (field.kind === 'array' && field.items?.kind === 'object')) continue
    fields[name] = fieldView(name, field, shape.required.has(name), options)
  }
  return fields
}

function fieldView(field: string, shape: Shape, required: boolean, options: DescribeOptions): FieldView {
  const path = [...(options.at ?? []), field]
  const name = nameOfPath(path)
  const item = shape.items ?? shape
  const records = options.choices?.[name] ?? options.choices?.[field]
  const known = records ?? wordsOf(item)
  const typed = valuesOf(options.typed, name)
  const type = typeOf(shape, known !== undefined)
  const error = options.errors[name]
  const asks = options.asked?.[name]
  // the first of several records is nobody's choice: it would be taken without a look
  const mayBeNone = () => !required || (records !== undefined && records.length > 1 && typed.length === 0)
  return {
    id: idOfPath(path),
    name,
    label: shape.title ?? inWords(field),
    type,
    required: required && shape.kind !== 'boolean',
    // a password is not sent back
    value: type === 'checkboxes' || type === 'password' ? null : (typed[0] ?? ''),
    ...(shape.description !== undefined && { hint: shape.description }),
    ...inputMode(shape),
    ...(shape.min !== undefined && type === 'number' && { min: shape.min }),
    ...(shape.max !== undefined && type === 'number' && { max: shape.max }),
    ...(shape.max_length !== undefined && { max_length: shape.max_length }),
    ...(known !== undefined &&
      type !== 'hidden' && { options: withSelection(known, typed, type === 'select' && mayBeNone()) }),
    ...unitOf(shape, options.habits),
    ...(error !== undefined && { error }),
    ...(asks !== undefined && { asks: nameQuestion(name, idOfPath(path), asks) }),
    ...(shape.classes !== undefined && { classes: shape.classes }),
    ...(shape.autocomplete !== undefined && { autocomplete: shape.autocomplete }),
  }
}

/** What stands beneath a name that is unknown. */
export function nameQuestion(control: string, id: string, asked: AskedName): NonNullable<FieldView['asks']> {
  return { id: `${id}-is`, name: choiceName(control), label: 'Which is it?', options: nameChoices(asked) }
}

function valuesOf(typed: Typed, name: string): string[] {
  const value = typed[name]
  return value === undefined ? [] : Array.isArray(value) ? value : [value]
}

function withSelection(choices: Choice[], typed: string[], mayBeNone: boolean): Choice[] {
  const saysNone = choices.some(choice => choice.value === '')
  const none: Choice[] = mayBeNone && !saysNone ? [{ value: '', label: '' }] : []
  return [...none, ...choices].map(choice => ({
    ...choice,
    selected: typed.includes(choice.value) || (typed.length === 0 && choice.selected === true),
  }))
}

const PLAIN_INPUTS: Record<string, FieldType> = {
  textarea: 'textarea',
  password: 'password',
  hidden: 'hidden',
  radios: 'radios',
}

function typeOf(shape: Shape, hasChoices: boolean): FieldType {
  const item = shape.items ?? shape
  const asked = PLAIN_INPUTS[shape.input ?? item.input ?? '']
  if (asked !== undefined) return asked
  if (hasChoices) return shape.kind === 'array' ? 'checkboxes' : 'select'
  if (shape.kind === 'boolean') return 'checkbox'
  if (shape.format === 'date') return 'date'
  if (shape.format === 'date-time') return 'datetime-local'
  if (shape.input === 'money' || shape.input === 'percent') return 'text'
  return shape.kind === 'number' || shape.kind === 'integer' ? 'number' : 'text'
}

function inputMode(shape: Shape): Pick<FieldView, 'inputmode'> {
  if (shape.input === 'tel' || shape.input === 'email') return { inputmode: shape.input }
  if (shape.kind === 'number' || shape.input === 'money' || shape.input === 'percent') return { inputmode: 'decimal' }
  return shape.kind === 'integer' ? { inputmode: 'numeric' } : {}
}

function unitOf(shape: Shape, habits: Habits): Pick<FieldView, 'unit'> {
  if (shape.unit !== undefined) return { unit: shape.unit }
  if (shape.input === 'money') return { unit: habits.currency }
  return shape.input === 'percent' ? { unit: '%' } : {}
}
