import { z } from 'zod'
import { Day, Id, Instant, Line, RecordFields } from '../../platform/contract.ts'

export const WaitInput = z
  .strictObject({
    what: Line.meta({ title: 'What it waits for', description: 'The part, the answer, the machine shop' }),
    from_whom: Line.optional().meta({ title: 'From whom' }),
    expected_on: Day.optional().meta({ title: 'Expected on' }),
  })
  .meta({ id: 'WaitInput' })
export type WaitInput = z.infer<typeof WaitInput>

export const WaitEndInput = z
  .strictObject({ note: Line.optional().meta({ title: 'What came of it', description: 'Left empty: it is here.' }) })
  .meta({ id: 'WaitEndInput' })
export type WaitEndInput = z.infer<typeof WaitEndInput>

/** With `ended` nobody waits for it any more. */
export const Wait = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    ...WaitInput.shape,
    ended: z.strictObject({ at: Instant, by: Id.nullable(), note: z.string().optional() }).optional(),
  })
  .meta({ id: 'Wait' })
export type Wait = z.infer<typeof Wait>

/** A promised day that was moved: from `was_on` to `now_on`; absent where no day was promised. */
export const MovedPromise = z
  .strictObject({ ...RecordFields, work_order_id: Id, was_on: Day.optional(), now_on: Day.optional() })
  .meta({ id: 'MovedPromise' })
export type MovedPromise = z.infer<typeof MovedPromise>
