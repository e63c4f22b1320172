import type { Context } from '../../platform/context.ts'
import type { Typed } from '../../platform/forms/names.ts'
import type { Choice, FieldView } from '../../platform/pages/field.ts'
import { allAccessSteps } from '../service/access-steps.ts'
import { allComponents } from '../service/components.ts'
import { allSymptoms } from '../service/names.ts'
import { allOperations } from '../service/operations.ts'
import { allProcedures } from '../service/procedures.ts'

/** What a row of a form offers when it may be left empty: without it the first choice would be taken for an answer. */
const NONE: Choice = { value: '', label: '' }

export function orNone(choices: Choice[]): Choice[] {
  return [NONE, ...choices]
}

const byName = ({ name }: { name: string }): Choice => ({ value: name, label: name })
const byId = ({ id, name }: { id: string; name: string }): Choice => ({ value: id, label: name })

export const symptomChoices = (ctx: Context): Choice[] => allSymptoms(ctx).map(byName)
export const componentChoices = (ctx: Context): Choice[] => allComponents(ctx).map(byName)
export const stepChoices = (ctx: Context): Choice[] => allAccessSteps(ctx).map(byId)
export const operationChoices = (ctx: Context): Choice[] => allOperations(ctx).map(byId)

/** Those that a joint can be tightened by: they have a revision. */
export function procedureChoices(ctx: Context): Choice[] {
  return allProcedures(ctx)
    .filter(({ revision }) => revision !== undefined)
    .map(byId)
}

/** One line for each text of a list, with `spare` empty ones after it. They share a name, so that empty ones fall away. */
export function lines(typed: Typed, name: string, label: string, spare: number): FieldView[] {
  const given = [typed[name] ?? []].flat().filter(text => text !== '')
  const id = name.replaceAll('_', '-')
  return [...given, ...Array<string>(spare).fill('')].map((value, at) => ({
    id: at === 0 ? id : `${id}-${at}`,
    name,
    label: `${label} ${at + 1}`,
    type: 'text',
    required: false,
    value,
  }))
}
