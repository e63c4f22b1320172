import { type FieldError, invalid, Problem } from './problems.ts'

type Looks = Record<string, () => unknown>

/**
 * Takes every look-up of one input and gives what each found, by its name. Those that refuse a field (422) are refused together, so
 * that whoever sent them need not mend one to be told of the next. Anything else that is thrown goes on as it is.
 */
export function together<L extends Looks>(looks: L): { [Name in keyof L]: ReturnType<L[Name]> } {
  const faults: FieldError[] = []
  const found = Object.entries(looks).map(([name, look]) => {
    try {
      return [name, look()]
    } catch (error) {
      faults.push(...fieldErrorsOf(error))
      return [name, undefined]
    }
  })
  if (faults.length > 0) throw invalid(...faults)
  return Object.fromEntries(found)
}

/** `together` for one look-up at each place of a list. */
export function eachTogether<T, R>(items: readonly T[], look: (item: T, place: number) => R): R[] {
  return Object.values(together(Object.fromEntries(items.map((item, place) => [place, () => look(item, place)]))))
}

function fieldErrorsOf(error: unknown): FieldError[] {
  if (error instanceof Problem && error.type === 'invalid-input' && error.more.errors !== undefined) {
    return error.more.errors
  }
  throw error
}
