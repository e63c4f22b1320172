import { z } from 'zod'
import { toSi } from '../../../../core/quantities.ts'
import type { TorqueRecordInput } from '../../../../fastening/contract.ts'
import type { Context } from '../../../../platform/context.ts'
import { invalid } from '../../../../platform/problems.ts'
import { wrenchFacts } from '../../../../tools/index.ts'
import { figure } from '../words.ts'

/** Ticked when the number did stand there: it is kept, and judged like any other. */
export const BeyondWrench = z.boolean().optional().meta({ title: 'It stood there all the same: record it' })

type Shown = Pick<TorqueRecordInput, 'value' | 'unit' | 'wrench_id'>

/**
 * A number that the wrench in hand cannot show is a slip of typing, or another wrench was used: the page asks once. Nothing is
 * refused for being wrong, so whoever says that it stood there has it recorded. 422 at `/beyond_wrench`.
 */
export function askBeyondWrench(ctx: Context, { value, unit, wrench_id }: Shown, said: boolean | undefined): void {
  if (said === true || value === undefined || unit === undefined || unit === 'deg' || wrench_id === undefined) return
  const wrench = wrenchFacts(ctx, wrench_id)
  if (wrench === undefined) return
  const { name, min_nm, max_nm } = wrench
  const nm = toSi(value, unit)
  // of a wrench whose range nobody has written down nothing can be said
  if (min_nm === null || max_nm === null || (nm >= min_nm && nm <= max_nm)) return
  throw invalid({
    pointer: '/beyond_wrench',
    detail: `${name} goes from ${figure(min_nm)} to ${figure(max_nm)} N·m and cannot show ${figure(nm)} N·m. Type it again, or choose the wrench that was used.`,
    code: 'out_of_range',
  })
}
