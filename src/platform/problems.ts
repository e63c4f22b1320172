import { PROBLEMS, type ProblemName } from './problem-catalogue.ts'

/** One bad field: an RFC 6901 pointer into the body as sent (`/lines/1/quantity`), or into the query (`/limit`). */
export interface FieldError {
  pointer: string
  detail: string
  code: string
  /** On a page: a name that is unknown, with those it may have been meant as. */
  asks?: { name: string; near: string[] }
}

export interface ProblemMore {
  detail: string
  errors?: FieldError[]
  /** Further members of the problem document, such as `blockers`. */
  extra?: Record<string, unknown>
}

export class Problem extends Error {
  readonly type: ProblemName
  readonly status: number
  readonly title: string
  readonly more: ProblemMore

  constructor(type: ProblemName, more: ProblemMore) {
    super(`${type}: ${more.detail}`)
    this.name = 'Problem'
    this.type = type
    this.status = PROBLEMS[type].status
    this.title = PROBLEMS[type].title
    this.more = more
  }
}

export function problem(type: ProblemName, more: ProblemMore): Problem {
  return new Problem(type, more)
}

/** 422 for fields that only the database or a rule can judge: an unknown name, a day before another. */
export function invalid(...errors: FieldError[]): Problem {
  return new Problem('invalid-input', { detail: errors.map(error => error.detail).join(' '), errors })
}

export function notFound(what: string, id: string): Problem {
  return new Problem('not-found', { detail: `There is no ${what} with the id ${id}.` })
}

/** A look-up for an id in a body: there, an unknown id is the field's fault (422) and not the address's (404). */
export function known<T>(pointer: string, find: () => T): T {
  try {
    return find()
  } catch (error) {
    if (!(error instanceof Problem) || error.type !== 'not-found') throw error
    throw invalid({ pointer, detail: error.more.detail, code: 'unknown' })
  }
}
