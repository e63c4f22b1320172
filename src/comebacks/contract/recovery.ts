import { z } from 'zod'
import { RECOVERY_STATES } from '../../core/vocabulary.ts'
import { Day, Id, Line, Price, RecordFields } from '../../platform/contract.ts'

/** `part_line_id` is the part that failed; what becomes of a claim supersedes it, with the reason. */
export const RecoveryInput = z
  .strictObject({
    decision_id: Id,
    supplier_id: Id.meta({ title: 'Supplier' }),
    amount_minor: Price.meta({ title: 'Amount', description: 'What is claimed; once paid, what was paid.' }),
    deadline_on: Day.meta({ title: 'To be claimed by', description: 'The supplier’s own terms decide.' }),
    state: z.enum(RECOVERY_STATES).meta({
      title: 'State',
      labels: {
        claimed: 'Claimed',
        agreed: 'Agreed, not paid yet',
        paid: 'Paid',
        refused: 'Refused',
        given_up: 'Given up',
      },
    }),
    part_line_id: Id.optional().meta({ title: 'The part that failed' }),
    kept_where: Line.optional().meta({
      title: 'Where the failed part is kept',
      description: 'With its tag, until the claim is closed.',
    }),
    supersedes: Id.optional(),
    reason: Line.optional().meta({ title: 'What has happened' }),
  })
  .meta({ id: 'RecoveryInput' })
export type RecoveryInput = z.infer<typeof RecoveryInput>

/** `same_batch` are the other vehicles that got the part from that batch. */
export const Recovery = z
  .strictObject({
    ...RecordFields,
    ...RecoveryInput.shape,
    superseded_by: Id.optional(),
    same_batch: z.array(z.strictObject({ vehicle_id: Id, job_id: Id, work_order: z.string() })),
  })
  .meta({ id: 'Recovery' })
export type Recovery = z.infer<typeof Recovery>

const { supplier_id, amount_minor, deadline_on, part_line_id, kept_where, state } = RecoveryInput.shape

/** The form that begins a claim. */
export const ClaimForm = z.strictObject({ supplier_id, amount_minor, deadline_on, part_line_id, kept_where })
export type ClaimForm = z.infer<typeof ClaimForm>

/** The form on which the owner says what has become of a claim. */
export const ClaimNewsForm = z.strictObject({
  state,
  amount_minor,
  deadline_on,
  kept_where,
  reason: Line.meta({ title: 'What has happened', description: 'Who said what, and which paper says so.' }),
})
export type ClaimNewsForm = z.infer<typeof ClaimNewsForm>
