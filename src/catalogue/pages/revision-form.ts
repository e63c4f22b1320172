import { z } from 'zod'
import { check } from '../../platform/check.ts'
import { Line, Text } from '../../platform/contract.ts'
import { type FieldError, invalid, problem } from '../../platform/problems.ts'
import { type ProcedureRevision, ProcedureRevisionInput } from '../contract.ts'

/**
 * A revision as a person types it: positions one to a line, `x y` in mm, and the maker's order as a row of numbers. A form
 * without any stage sends no list.
 */
export const RevisionForm = z.strictObject({
  ...ProcedureRevisionInput.shape,
  positions: Text.optional().meta({
    title: 'Positions in mm',
    description: 'One fastener to a line, across and down from any corner: 0 47.5',
    input: 'textarea',
  }),
  order: Line.optional().meta({
    title: 'The maker’s own order',
    description: 'As printed: 1 4 2 5 3 6. It always wins',
  }),
  stages: ProcedureRevisionInput.shape.stages.optional(),
})

/** What was typed, as the contract has it; 422 at the control that a person can put right. */
export function revisionOf(typed: z.infer<typeof RevisionForm>): ProcedureRevisionInput {
  const { positions, order, stages = [], ...rest } = typed
  const input = {
    ...rest,
    stages,
    ...(positions !== undefined && {
      positions: positions
        .split('\n')
        .filter(line => line.trim() !== '')
        .map(pointOf),
    }),
    ...(order !== undefined && {
      order: order
        .split(/[\s,;]+/)
        .filter(Boolean)
        .map(wholeNumber),
    }),
  }
  const checked = check(ProcedureRevisionInput, input)
  if (checked.ok) return checked.value
  throw problem('invalid-input', { detail: 'Some of it needs putting right.', errors: checked.errors.map(atControl) })
}

function pointOf(line: string): { x_mm: number; y_mm: number } {
  const [x_mm = Number.NaN, y_mm = Number.NaN, ...more] = line
    .trim()
    .split(/[\s;]+/)
    .map(text => Number(text.replace(',', '.')))
  if (more.length === 0 && Number.isFinite(x_mm + y_mm)) return { x_mm, y_mm }
  throw invalid({
    pointer: '/positions',
    detail: `“${line.trim()}” is not two numbers, as 0 47.5.`,
    code: 'not_a_position',
  })
}

function wholeNumber(text: string): number {
  if (/^\d{1,3}$/.test(text)) return Number(text)
  throw invalid({ pointer: '/order', detail: `“${text}” is not the number of a fastener.`, code: 'not_a_number' })
}

/** One control stands for a whole list of positions, and for the order; the first stage for the want of any. */
function atControl(error: FieldError): FieldError {
  const list = /^\/(?:positions|order)(?=\/)/.exec(error.pointer)?.[0]
  if (list !== undefined) return { ...error, pointer: list }
  return error.pointer === '/stages' ? { ...error, pointer: '/stages/0/kind' } : error
}

/** The newest revision as the form shows it, to begin the next one with. */
export function typedOf(revision: ProcedureRevision): object {
  const { positions, order, supersedes: _, reason: __, ...rest } = revision
  return {
    ...rest,
    ...(positions !== undefined && { positions: positions.map(({ x_mm, y_mm }) => `${x_mm} ${y_mm}`).join('\n') }),
    ...(order !== undefined && { order: order.join(' ') }),
  }
}
