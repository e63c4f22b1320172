import { z } from 'zod'
import { CAUSE_CATEGORIES } from '../../core/vocabulary.ts'
import { Id, Instant, Line, MinorMoney, RecordFields } from '../../platform/contract.ts'

/** Why it was done twice. A correction names the cause that it `supersedes`. */
export const LossCauseInput = z
  .strictObject({
    category: Line.meta({ title: 'Cause', description: 'One of the ready answers, or a word of your own.' }),
    root_cause: z.array(Line).max(20).meta({ title: 'Root cause', description: 'What went wrong, and why.' }),
    supersedes: Id.optional(),
  })
  .meta({ id: 'LossCauseInput' })
export type LossCauseInput = z.infer<typeof LossCauseInput>

export const LossCause = z
  .strictObject({ ...RecordFields, opening_id: Id, ...LossCauseInput.shape })
  .meta({ id: 'LossCause' })
export type LossCause = z.infer<typeof LossCause>

/**
 * Strip-down that was opened again at our cost before the vehicle ever left; derived, so its id is that of its first
 * opening. The last of `causes` stands.
 */
export const Loss = z
  .strictObject({
    id: Id,
    work_order_id: Id,
    at: Instant,
    steps: z.array(z.string()),
    reason: z.string().optional(),
    hours: z.number(),
    labour_minor: MinorMoney,
    causes: z.array(LossCause),
  })
  .meta({ id: 'Loss' })
export type Loss = z.infer<typeof Loss>

export const LossForm = z.strictObject({
  category: z.enum(CAUSE_CATEGORIES).optional().meta({ title: 'Cause' }),
  other_category: Line.optional().meta({ title: 'Or in a word of your own' }),
  what_failed: Line.optional().meta({ title: 'What went wrong' }),
  why_failed: Line.optional().meta({ title: 'Why' }),
  why_possible: Line.optional().meta({ title: 'Why that was possible' }),
  supersedes: Id.optional().meta({ input: 'hidden' }),
})
export type LossForm = z.infer<typeof LossForm>
