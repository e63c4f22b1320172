import type { Reason } from '../contract.ts'
import type { Habits } from '../forms/decode.ts'
import { type DescribeOptions, describe } from '../forms/describe.ts'
import { encode } from '../forms/encode.ts'
import type { Typed } from '../forms/names.ts'
import type { Shape } from '../forms/shape.ts'
import { type AskedName, type FormErrors, formErrors } from '../forms/summary.ts'
import type { FieldView } from '../pages/field.ts'
import type { Problem } from '../problems.ts'
import { type FormParts, newFormKey } from './pages.ts'

/** A form as its page draws it: what was typed so far and what is wrong with it. */
export interface FormState {
  typed: Typed
  /** What is wrong, by the name of the control. */
  errors: Record<string, string>
  /** Unknown names to ask about, by the name of the control. */
  asked: Record<string, AskedName>
  /** The fields of the contract, or of the object at `at`, by name; `choices` from the database, by name. */
  fields(options?: Pick<DescribeOptions, 'choices' | 'at'>): Record<string, FieldView>
  /** How many rows of a list of objects were typed: at least `least`. */
  rows(list: string, least: number): number
  /** Null unless the form was only to be drawn again (see page-route.ts). */
  again: Again | null
  parts: FormParts
}

/** Which button asked for the form again, and what is typed so far as the contract would read it: not checked yet. */
export interface Again {
  button: string
  value: unknown
}

interface Wrong {
  errors: FormErrors
  version: number | null
  /** Names that somebody has called new so far. */
  new_names?: string[]
}

/** A form that nobody has sent yet. */
export function freshForm(shape: Shape, habits: Habits, initial: { values?: object; version?: number }): FormState {
  const typed = encode(initial.values ?? {}, shape, habits)
  return state(shape, habits, typed, null, initial.version ?? null)
}

/** A form that comes back. */
export function filledForm(shape: Shape, habits: Habits, typed: Typed, wrong: Wrong): FormState {
  const { parts, ...rest } = state(shape, habits, typed, wrong.errors, wrong.version)
  return { ...rest, parts: { ...parts, new_names: wrong.new_names ?? [] } }
}

/** A form that comes back as it was typed because a button of it asked for that: more rows, a drawing of what is typed. */
export function redrawnForm(shape: Shape, habits: Habits, typed: Typed, version: number, again: Again): FormState {
  return { ...state(shape, habits, typed, null, version < 0 ? null : version), again }
}

/** What a refusal means for the form: each bad field, or a sentence for the whole with what blocks it. */
export function stateAfter(shape: Shape, refusal: Problem, version: number): Wrong {
  const errors = refusal.more.errors ?? []
  const general = errors.length > 0 ? undefined : generalWords(refusal)
  return { errors: formErrors(shape, errors, general), version: version < 0 ? null : version }
}

function generalWords(refusal: Problem): string {
  if (refusal.type === 'stale-edit') {
    return 'Somebody has changed this since you opened the form. What you typed is below; look at the record, then send it again to put yours in its place.'
  }
  if (refusal.type === 'key-reused')
    return 'This form has been sent before with other content. Send it again only if it is to be done once more.'
  const blockers = (refusal.more.extra?.blockers ?? []) as Reason[]
  const said = refusal.more.detail.toLowerCase()
  const more = blockers.filter(({ sentence }) => !said.includes(sentence.replace(/\.$/, '').toLowerCase()))
  return [refusal.more.detail, ...more.map(blocker => blocker.sentence)].join(' ')
}

function state(
  shape: Shape,
  habits: Habits,
  typed: Typed,
  wrong: FormErrors | null,
  version: number | null,
): FormState {
  const errors = wrong?.byName ?? {}
  const asked = wrong?.asked ?? {}
  return {
    typed,
    errors,
    asked,
    fields(options = {}) {
      return describe(shapeAt(shape, options.at ?? []), { typed, errors, asked, habits, ...options })
    },
    rows(list, least) {
      const indexes = Object.keys(typed).flatMap(name =>
        name.startsWith(`${list}[`) ? [Number.parseInt(name.slice(list.length + 1), 10)] : [],
      )
      return Math.max(least, ...indexes.filter(index => index < 500).map(index => index + 1))
    },
    again: null,
    parts: { key: newFormKey(), version, new_names: [], error_summary: wrong?.summary ?? null },
  }
}

function shapeAt(shape: Shape, path: readonly (string | number)[]): Shape {
  let place = shape
  for (const part of path) {
    const next = place.kind === 'array' ? place.items : place.fields.get(String(part))
    if (next === undefined) throw new RangeError(`The form has nothing at ${path.join(' ')}`)
    place = next
  }
  return place
}
