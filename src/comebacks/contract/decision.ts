import { z } from 'zod'
import { BEARERS, CAUSE_CATEGORIES, COMEBACK_DECISIONS, SUSPICION_REASONS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, RecordFields, Text } from '../../platform/contract.ts'

const LikeThis = z.strictObject({ confirmed: z.int(), decided: z.int() }).meta({ id: 'LikeThis' })

/**
 * A work order that may be there because of an earlier job; derived, so its id is made of the two. `chance` is that of the
 * same set of reasons in past decisions, drawn to the rate of each reason; null before anything was decided.
 */
export const Suspicion = z
  .strictObject({
    id: Id,
    created_at: Instant,
    created_by: Id.nullable(),
    vehicle_id: Id,
    earlier_job_id: Id,
    later_work_order_id: Id,
    reasons: z.array(z.enum(SUSPICION_REASONS)),
    sentences: z.array(z.string()),
    days_after: z.int(),
    like_this: LikeThis,
    chance: z.number().nullable(),
  })
  .meta({ id: 'Suspicion' })
export type Suspicion = z.infer<typeof Suspicion>

export const SuspicionQuery = z.strictObject({
  vehicle_id: Id.optional(),
  work_order_id: Id.optional(),
})
export type SuspicionQuery = z.infer<typeof SuspicionQuery>

/** What a person decides; the two records that it is about stand beside it. */
export const DecisionFields = {
  decision: z.enum(COMEBACK_DECISIONS).meta({
    title: 'Is it a comeback of that job?',
    input: 'radios',
    labels: { confirmed: 'Yes, it is', ruled_out: 'No, it is ruled out' },
  }),
  why: Text.meta({ title: 'Why', description: 'The evidence, in words.' }),
  category: Line.optional().meta({ title: 'Cause', description: 'One of the ready answers, or a word of your own.' }),
  borne_by: z
    .enum(BEARERS)
    .optional()
    .meta({
      title: 'Who pays for it',
      description: 'Needed for a comeback.',
      input: 'radios',
      labels: { us: 'We do', supplier: 'The supplier', customer: 'The customer', shared: 'It is shared' },
    }),
}

const RootCause = z.array(Line).max(20)

/**
 * `earlier_job_id` is one of our jobs, or the record of our work in an imported history. A correction names the decision that
 * it `supersedes`; its `reason` may be left out, since `why` is always given and may say it.
 */
export const ComebackDecisionInput = z
  .strictObject({
    earlier_job_id: Id,
    later_work_order_id: Id,
    ...DecisionFields,
    root_cause: RootCause.meta({ title: 'Root cause', description: 'What failed, why, and why that was possible.' }),
    supersedes: Id.optional(),
    reason: Line.optional().meta({ title: 'Why the decision before it does not hold' }),
  })
  .meta({ id: 'ComebackDecisionInput' })
export type ComebackDecisionInput = z.infer<typeof ComebackDecisionInput>

/** `reasons` are those that were seen when it was decided; `superseded_by` is there once it no longer holds. */
export const ComebackDecision = z
  .strictObject({
    ...RecordFields,
    ...ComebackDecisionInput.shape,
    reasons: z.array(z.enum(SUSPICION_REASONS)),
    superseded_by: Id.optional(),
  })
  .meta({ id: 'ComebackDecision' })
export type ComebackDecision = z.infer<typeof ComebackDecision>

/** The form that stands on the page of one suspicion; `supersedes` is the decision that the page showed. */
export const DecisionForm = z.strictObject({
  decision: DecisionFields.decision,
  why: DecisionFields.why,
  category: z.enum(CAUSE_CATEGORIES).optional().meta({ title: 'Cause' }),
  other_category: Line.optional().meta({ title: 'Or in a word of your own' }),
  what_failed: Line.optional().meta({ title: 'What failed' }),
  why_failed: Line.optional().meta({ title: 'Why it failed' }),
  why_possible: Line.optional().meta({ title: 'Why that was possible' }),
  borne_by: DecisionFields.borne_by,
  supersedes: Id.optional().meta({ input: 'hidden' }),
})
export type DecisionForm = z.infer<typeof DecisionForm>
