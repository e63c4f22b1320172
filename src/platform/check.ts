import type { z } from 'zod'
import type { FieldError } from './problems.ts'

/** Words for what zod found, written for the person who sent it, with RFC 6901 pointers made from zod's own paths. */

type Issue = z.core.$ZodIssue
type RawIssue = z.core.$ZodRawIssue

const TYPE_WORDS: Record<string, string> = {
  string: 'This must be text.',
  number: 'This must be a number, such as 12.5.',
  int: 'This must be a whole number.',
  boolean: 'This must be true or false.',
  array: 'This must be a list.',
  object: 'This must be an object.',
  null: 'This must be null.',
}

const FORMAT_WORDS: Record<string, string> = {
  date: 'This must be a day that exists, written YYYY-MM-DD.',
  datetime: 'This must be an instant in UTC, written 2031-05-04T10:30:00Z.',
  email: 'This must be an e-mail address.',
  safeint: 'This must be a whole number that is not too large.',
}

/** A decimal sign is read as one only where it cannot be a thousands mark. */
const AMBIGUOUS_NUMBER = /^-?[1-9]\d{0,2}[.,]\d{3}$/

/** The message of one issue; handed to zod as its error map. */
function say(issue: RawIssue): string | undefined {
  switch (issue.code) {
    case 'invalid_type': {
      if (issue.input === undefined) return 'This is needed.'
      if (typeof issue.input === 'string' && AMBIGUOUS_NUMBER.test(issue.input)) {
        const [whole = '', rest = ''] = issue.input.split(/[.,]/)
        return `Write ${whole}${rest} or ${whole}.${notThree(rest)}: before three digits the sign can mean either.`
      }
      if (issue.expected === 'number' && isWhole(issue)) return 'This must be a whole number, such as 12.'
      return TYPE_WORDS[issue.expected] ?? 'This is of the wrong kind.'
    }
    case 'too_small':
      return tooSmall(issue)
    case 'too_big':
      return tooBig(issue)
    case 'invalid_value':
      return issue.values.length === 1
        ? `This must be ${String(issue.values[0])}.`
        : `Choose one of: ${issue.values.map(String).join(', ')}.`
    case 'invalid_format':
      return FORMAT_WORDS[issue.format] ?? 'This is not written as it should be.'
    case 'not_multiple_of':
      return `This must be a multiple of ${issue.divisor}.`
    case 'unrecognized_keys':
      return 'There is no field of this name here.'
    case 'invalid_union':
      return 'This has none of the forms that are taken here.'
    default:
      return undefined
  }
}

/** Decimals that nobody can take for thousands: 500 as 5, 125 as 1250. */
function notThree(decimals: string): string {
  return decimals.endsWith('0') ? decimals.replace(/0{1,2}$/, '') : `${decimals}0`
}

/** Whether the field takes whole numbers only. */
function isWhole(issue: RawIssue): boolean {
  const format = (issue.inst?._zod.def as { format?: string } | undefined)?.format
  return format === 'safeint'
}

function tooSmall(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooSmall>): string {
  const least = String(issue.minimum)
  if (issue.origin === 'string')
    return issue.minimum === 1 ? 'This may not be empty.' : `Write at least ${least} characters.`
  if (issue.origin === 'array') return issue.minimum === 1 ? 'Give at least one.' : `Give at least ${least}.`
  if (issue.inclusive === false) return `This must be more than ${least}.`
  return `This must be ${least} or more.`
}

function tooBig(issue: z.core.$ZodRawIssue<z.core.$ZodIssueTooBig>): string {
  const most = String(issue.maximum)
  if (issue.origin === 'string') return `Write at most ${most} characters.`
  if (issue.origin === 'array') return `Give at most ${most}.`
  if (issue.inclusive === false) return `This must be less than ${most}.`
  return `This must be ${most} or less.`
}

/** RFC 6901: '~' and '/' inside a name are escaped. The whole document is ''. */
function jsonPointer(path: readonly PropertyKey[]): string {
  return path.map(part => `/${String(part).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('')
}

/** The path of a pointer, undoing `jsonPointer`. */
export function pathOfPointer(pointer: string): string[] {
  return pointer
    .split('/')
    .slice(1)
    .map(part => part.replaceAll('~1', '/').replaceAll('~0', '~'))
}

export type Checked<T> = { ok: true; value: T } | { ok: false; errors: FieldError[] }

/**
 * Parses by a contract. On failure every bad field has its pointer; an unknown field is pointed at itself. One message a field
 * and rule: of two bounds of one kind the later, which a contract draws narrower. Never throws on input.
 */
export function check<Schema extends z.ZodType>(schema: Schema, input: unknown): Checked<z.output<Schema>> {
  const result = schema.safeParse(input, { error: say, reportInput: true })
  if (result.success) return { ok: true, value: result.data }
  const errors = fieldErrors(result.error.issues, [])
  const ofFieldAndRule = new Map(errors.map(error => [`${error.code} ${error.pointer}`, error]))
  return { ok: false, errors: [...ofFieldAndRule.values()].slice(0, 100) }
}

function fieldErrors(issues: readonly Issue[], prefix: readonly PropertyKey[]): FieldError[] {
  return issues.flatMap(issue => {
    const path = [...prefix, ...issue.path]
    if (issue.code === 'unrecognized_keys') {
      return issue.keys.map(key => ({
        pointer: jsonPointer([...path, key]),
        detail: issue.message,
        code: 'unknown_field',
      }))
    }
    if (issue.code === 'invalid_union') {
      const branch = closestBranch(issue.errors)
      if (branch !== undefined) return fieldErrors(branch, path)
    }
    const code = issue.code === 'invalid_type' && issue.input === undefined ? 'missing' : issue.code
    return [{ pointer: jsonPointer(path), detail: issue.message, code }]
  })
}

/** Of several forms that were all missed, the one missed least tells the most; none when even that is of another kind. */
function closestBranch(branches: readonly (readonly Issue[])[]): readonly Issue[] | undefined {
  const [closest] = [...branches].filter(issues => issues.length > 0).sort((a, b) => weight(a) - weight(b))
  const isOtherKind = closest?.some(issue => issue.path.length === 0 && issue.code === 'invalid_type') ?? true
  return isOtherKind ? undefined : closest
}

function weight(issues: readonly Issue[]): number {
  return issues.reduce((sum, issue) => sum + (issue.code === 'unrecognized_keys' ? issue.keys.length : 1), 0)
}
