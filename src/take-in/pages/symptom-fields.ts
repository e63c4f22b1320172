import type { FormState } from '../../platform/http/form-state.ts'
import type { FieldView } from '../../platform/pages/field.ts'

/** So many lines for symptoms stand there at the least. */
const LEAST = 2

/** One line for each symptom, to choose from known ones or to write a new one; one more than were typed. */
export function symptomFields(form: FormState): FieldView[] {
  const typed = typedSymptoms(form)
  const error = form.errors.symptoms ?? null
  const count = Math.max(LEAST, typed.length + (typed.at(-1) === '' ? 0 : 1))
  return Array.from({ length: Math.min(count, 20) }, (_, place) => ({
    id: place === 0 ? 'symptoms' : `symptoms-${place}`,
    name: `symptoms[${place}]`,
    label: place === 0 ? 'Symptom' : 'Another one',
    type: 'text',
    required: false,
    value: typed[place] ?? '',
    list: 'symptom-names',
    max_length: 200,
    classes: 'medium',
    ...(place === 0 && error !== null && { error }),
  }))
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
