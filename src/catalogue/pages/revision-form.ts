import { z } from 'zod'
import { isRepeat } from '../../core/fastening/repeat.ts'
import { STAGE_KINDS } from '../../core/vocabulary.ts'
import { check } from '../../platform/check.ts'
import { Line } from '../../platform/contract.ts'
import { type FieldError, invalid, problem } from '../../platform/problems.ts'
import { type ProcedureRevision, ProcedureRevisionInput, Stage } from '../contract.ts'

/** A repeat is one more torque stage of the same target: a person picks it by that name and leaves the target empty. */
const StageRow = z.strictObject({
  ...Stage.shape,
  kind: z.enum([...STAGE_KINDS, 'repeat']).meta({ title: 'What is done' }),
  target: Stage.shape.target.optional().meta({ title: 'Target', classes: 'short' }),
})
type StageRow = z.infer<typeof StageRow>

/** A revision as a person types it: the maker's order as a row of numbers, stages as rows. A form without rows sends no list. */
export const RevisionForm = z.strictObject({
  ...ProcedureRevisionInput.shape,
  order: Line.optional().meta({
    title: 'The maker’s own order',
    description: 'As printed: 1, 4, 2, 5, 3. It always wins over the rule',
  }),
  stages: z.array(StageRow).max(12).optional().meta({ title: 'Stages' }),
})

/** What was typed, as the contract has it; 422 at the control that a person can put right. */
export function revisionOf(typed: z.infer<typeof RevisionForm>): ProcedureRevisionInput {
  const { order, stages = [], ...rest } = typed
  const input = {
    ...rest,
    stages: spelledOut(stages),
    ...(order !== undefined && {
      order: order
        .split(/[\s,;–-]+/)
        .filter(Boolean)
        .map(wholeNumber),
    }),
  }
  const checked = check(ProcedureRevisionInput, input)
  if (checked.ok) return checked.value
  throw problem('invalid-input', { detail: 'Some of it needs putting right.', errors: checked.errors.map(atControl) })
}

/** Each repeat as the torque stage that it is. */
function spelledOut(rows: readonly StageRow[]): object[] {
  const stages: StageRow[] = []
  for (const [at, row] of rows.entries()) {
    if (row.kind !== 'repeat') stages.push(row)
    else {
      const before = stages.findLast(({ kind }) => kind === 'torque')
      if (before === undefined) throw atStage(at, 'kind', 'There is no torque stage before it that could be repeated.')
      if (row.target !== undefined && row.target !== before.target) {
        throw atStage(
          at,
          'target',
          `A repeat goes to the ${before.target} N·m of the stage before. Leave this empty, or choose “Tighten to N·m”.`,
        )
      }
      stages.push({ ...before, ...row, kind: 'torque', target: before.target })
    }
  }
  return stages
}

function atStage(at: number, field: string, detail: string) {
  return invalid({ pointer: `/stages/${at}/${field}`, detail, code: 'wrong' })
}

function wholeNumber(text: string): number {
  if (/^\d{1,3}$/.test(text)) return Number(text)
  throw invalid({ pointer: '/order', detail: `“${text}” is not the number of a fastener.`, code: 'not_a_number' })
}

/** One control stands for the whole order; the first of a row for the row, and of the first row for the want of any. */
export function atControl(error: FieldError): FieldError {
  const { pointer } = error
  if (pointer.startsWith('/order/')) return { ...error, pointer: '/order' }
  if (pointer === '/stages') return { ...error, pointer: '/stages/0/kind' }
  if (pointer === '/positions') return { ...error, pointer: '/positions/0/x_mm' }
  return /^\/positions\/\d+$/.test(pointer) ? { ...error, pointer: `${pointer}/x_mm` } : error
}

/** The newest revision as the form shows it, to begin the next one with. */
export function typedOf(revision: ProcedureRevision): object {
  const { order, stages, count, supersedes: _, reason: __, warnings: ___, ...rest } = revision
  return {
    ...rest,
    // positions say how many there are; a number beside them could only contradict
    ...(revision.positions === undefined && { count }),
    stages: stages.map(({ target, ...stage }, at) =>
      isRepeat(stages, at) ? { ...stage, kind: 'repeat' } : { ...stage, target },
    ),
    ...(order !== undefined && { order: order.join(', ') }),
  }
}
