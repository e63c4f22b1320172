import Database from 'better-sqlite3'
import { PROBLEMS, type ProblemName } from '../problem-catalogue.ts'
import { type Problem, problem } from '../problems.ts'

/** Columns that people call a record by; another unique column that is violated is a fault of the program. */
const NAME_COLUMNS = ['name', 'number']

function fromTrigger(message: string): Problem | null {
  const name = /^problem:([a-z-]+)$/.exec(message)?.[1]
  if (name === undefined || !(name in PROBLEMS)) return null
  const type = name as ProblemName
  return problem(type, { detail: PROBLEMS[type].help })
}

function fromUnique(message: string): Problem | null {
  const [, table, column] = /^UNIQUE constraint failed: (\w+)\.(\w+)$/.exec(message) ?? []
  if (table === undefined || column === undefined || !NAME_COLUMNS.includes(column)) return null
  const detail = `Another record of ${table.replaceAll('_', ' ')} has this ${column} already.`
  return problem('name-taken', { detail, errors: [{ pointer: `/${column}`, detail, code: 'taken' }] })
}

/**
 * What the database refused, as a problem to tell the caller; null for what only a fault of the program can cause. Both
 * the driver's codes and the names that our triggers raise (`problem:record-never-changes`) are read here and nowhere else.
 */
export function problemFromSqlite(error: unknown): Problem | null {
  if (!(error instanceof Database.SqliteError)) return null
  if (/^SQLITE_(BUSY|LOCKED)/.test(error.code)) return problem('busy', { detail: 'Another write is in the way.' })
  switch (error.code) {
    case 'SQLITE_CONSTRAINT_TRIGGER':
      return fromTrigger(error.message)
    case 'SQLITE_CONSTRAINT_UNIQUE':
      return fromUnique(error.message)
    case 'SQLITE_CONSTRAINT_FOREIGNKEY':
      return problem('invalid-input', { detail: 'It names a record that does not exist.' })
    default:
      return null
  }
}
