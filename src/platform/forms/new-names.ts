import { nameKey } from '../../core/name-key.ts'
import { nearNames } from '../../core/near-names.ts'
import type { Choice } from '../pages/field.ts'
import { type FieldError, invalid } from '../problems.ts'
import type { Typed } from './names.ts'

/**
 * A name that nobody has used before is most often a typing error. The API makes it, as it is asked to; a form asks first,
 * here and nowhere else. The question stands under its field: one of the near names, or a new one.
 */
export interface TypedName {
  pointer: string
  /** What it would be the name of: family, operation. */
  what: string
  /** Undefined where nothing was typed. */
  name: string | undefined
  known: readonly { name: string }[]
}

/** 422 with a question for each unknown name that nobody has called new. While there are no names at all, none is asked about. */
export function askAboutNewNames(calledNew: ReadonlySet<string>, typed: readonly TypedName[]): void {
  const questions = typed.flatMap(({ pointer, what, name, known }): FieldError[] => {
    if (name === undefined || known.length === 0) return []
    const key = nameKey(name)
    if (calledNew.has(key) || known.some(each => nameKey(each.name) === key)) return []
    const near = nearNames(
      name,
      known.map(each => each.name),
    )
    const ask = near.length === 0 ? 'Is it a new one?' : 'Did you mean one of these, or is it a new one?'
    const detail = `There is no ${what} “${name}” yet. ${ask}`
    return [{ pointer, detail, code: 'new_name', asks: { name, near } }]
  })
  if (questions.length > 0) throw invalid(...questions)
}

/** The choices under a field whose name is unknown. */
export function nameChoices({ name, near }: { name: string; near: readonly string[] }): Choice[] {
  return [
    ...near.map(known => ({ value: `${KNOWN}${known}`, label: known })),
    { value: `${NEW}${name}`, label: `A new one: ${name}` },
  ]
}

/** The control of those choices, beside that of the name itself. */
export function choiceName(control: string): string {
  return `${CHOICE}${control}`
}

const CHOICE = '_name '
const KNOWN = 'known '
const NEW = 'new '

/** What a form sent, with each name as it was chosen, and the names that somebody called new, now or before. */
export function namesChosen({ _new = [], ...sent }: Typed): { given: Typed; new_names: string[] } {
  const given: Typed = {}
  const chosen: Typed = {}
  const new_names = new Set([_new].flat())
  for (const [control, value] of Object.entries(sent)) {
    if (!control.startsWith(CHOICE)) {
      given[control] = value
      continue
    }
    const choice = [value].flat()[0] ?? ''
    if (choice.startsWith(KNOWN)) chosen[control.slice(CHOICE.length)] = choice.slice(KNOWN.length)
    if (choice.startsWith(NEW)) new_names.add(choice.slice(NEW.length))
  }
  return { given: { ...given, ...chosen }, new_names: [...new_names] }
}
