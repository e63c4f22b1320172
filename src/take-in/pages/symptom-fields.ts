import { allSymptoms } from '../../catalogue/index.ts'
import type { Context } from '../../platform/context.ts'
import { nameQuestion } from '../../platform/forms/describe.ts'
import type { TypedName } from '../../platform/forms/new-names.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import type { FieldView } from '../../platform/pages/field.ts'

/** So many lines for symptoms stand there at the least. */
const LEAST = 2

/** The symptoms of a form, to be asked about where one is new. */
export function symptomsTyped(ctx: Context, { symptoms = [] }: { symptoms?: string[] | undefined }): TypedName[] {
  const known = allSymptoms(ctx)
  return symptoms.map((name, place) => ({ pointer: `/symptoms/${place}`, what: 'symptom', name, known }))
}

/** One line for each symptom, to choose from known ones or to write a new one; one more than were typed. */
export function symptomFields(form: FormState): FieldView[] {
  const typed = typedSymptoms(form)
  const error = form.errors.symptoms ?? null
  const count = Math.max(LEAST, typed.length + (typed.at(-1) === '' ? 0 : 1))
  return Array.from({ length: Math.min(count, 20) }, (_, place): FieldView => {
    const id = place === 0 ? 'symptoms' : `symptoms-${place}`
    const name = `symptoms[${place}]`
    // a question is told by its words: a line that was left empty between two moves those behind it up
    const asked = Object.values(form.asked).find(question => question.name === typed[place]?.trim())
    return {
      ...{ id, name, label: place === 0 ? 'Symptom' : 'Another one', type: 'text', required: false },
      ...{ value: typed[place] ?? '', list: 'symptom-names', max_length: 200, classes: 'medium' },
      ...(place === 0 && error !== null && { error }),
      ...(asked !== undefined && { asks: nameQuestion(name, id, asked) }),
    }
  })
}

/** As a fresh form has them, in one list; or as they came back, line by line. */
function typedSymptoms({ typed }: FormState): string[] {
  const listed = [typed.symptoms ?? []].flat()
  const lines = Object.keys(typed).flatMap(name => /^symptoms\[(\d{1,2})\]$/.exec(name)?.[1] ?? [])
  return lines.length === 0
    ? listed
    : Array.from(
        { length: Math.max(...lines.map(Number)) + 1 },
        (_, place) => [typed[`symptoms[${place}]`] ?? ''].flat()[0] ?? '',
      )
}
