import { capital } from '../../core/words.ts'
import { pathOfPointer } from '../check.ts'
import { type ErrorSummaryView, errorSummary } from '../pages/field.ts'
import type { FieldError } from '../problems.ts'
import { idOfPath, nameOfPath } from './names.ts'
import { type Shape, wordsOf } from './shape.ts'

export interface FormErrors {
  summary: ErrorSummaryView
  /** By the name of the control. */
  byName: Record<string, string>
  /** Names that are unknown, by the name of the control. */
  asked: Record<string, AskedName>
}

export type AskedName = NonNullable<FieldError['asks']>

/**
 * What was wrong, twice: the summary that stands first and links to the first control of each field, and the words beside
 * each control. `general` is said when no single field is to blame.
 */
export function formErrors(shape: Shape, errors: readonly FieldError[], general?: string): FormErrors {
  const byName: Record<string, string> = {}
  const asked: Record<string, AskedName> = {}
  const lines: { field: string; text: string }[] = []
  if (general !== undefined) lines.push({ field: '', text: general })
  for (const error of errors) {
    const path = pathOfPointer(error.pointer)
    const { label, field, choices, isMoney } = fieldAt(shape, path)
    const detail =
      error.code === 'invalid_value' && choices.length > 1
        ? `Choose one of: ${choices.join(', ')}.`
        : error.code === 'invalid_type' && isMoney
          ? 'This must be an amount, such as 64 or 64.50.'
          : error.detail
    const name = nameOfPath(path.slice(0, field))
    byName[name] ??= detail
    if (error.asks !== undefined) asked[nameOfPath(path)] = error.asks
    lines.push({
      field: idOfPath(path.slice(0, field)),
      text: label === '' ? detail : `${label}: ${lowerFirst(detail)}`,
    })
  }
  return { summary: errorSummary(lines), byName, asked }
}

function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1)
}

/**
 * The label of the field at a path, with the number of its row, how much of the path has a control of its own, what can be
 * chosen there, in the words of the page, and whether it is an amount, which is typed otherwise than it is sent.
 */
function fieldAt(shape: Shape, path: string[]): { label: string; field: number; choices: string[]; isMoney: boolean } {
  const labels: string[] = []
  let place: Shape | undefined = shape
  let depth = 0
  for (const part of path) {
    if (place?.kind === 'array') {
      // one control for the whole list, unless its items have fields of their own
      if (place.items?.kind !== 'object' && place.items?.kind !== 'array') break
      labels.push(`${Number(part) + 1}`)
      place = place.items
    } else {
      const next: Shape | undefined = place?.fields.get(part)
      labels.push(next?.title ?? capital(part.replaceAll('_', ' ')))
      place = next
    }
    depth += 1
  }
  const choices = place === undefined ? [] : (wordsOf(place.items ?? place) ?? [])
  return {
    ...{ label: labels.join(' '), field: depth },
    ...{ choices: choices.map(choice => choice.label), isMoney: place?.input === 'money' },
  }
}
