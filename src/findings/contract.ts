import { z } from 'zod'
import { ADVICES, DOERS, EXACTNESS, SEVERITIES } from '../core/vocabulary.ts'
import { Day, Id, Line, MotoringDay, Name, Price, RecordFields, Text } from '../platform/contract.ts'

export const PriorWorkInput = z
  .strictObject({
    operation: Name.meta({ title: 'What was done', description: 'An operation of the catalogue, or a new name' }),
    by: z.enum(DOERS).meta({
      title: 'Who did it',
      labels: {
        other: 'Another workshop',
        owner: 'The owner',
        us: 'We did, before this record began',
        unknown: 'Nobody knows',
      },
    }),
    on: Day.optional().meta({ title: 'When', description: 'For a month or a year, any day in it' }),
    exactness: z.enum(EXACTNESS).meta({
      title: 'How well the day is known',
      labels: { day: 'On that day', month: 'In that month', year: 'In that year', unknown: 'Nobody knows when' },
    }),
    evidence: Line.optional().meta({ title: 'How we know', description: 'Invoice seen, owner says, fresh sealant' }),
  })
  .meta({ id: 'PriorWorkInput' })
export type PriorWorkInput = z.infer<typeof PriorWorkInput>

export const PriorWork = z
  .strictObject({
    ...RecordFields,
    vehicle_id: Id,
    operation: Name,
    by: z.enum(DOERS),
    on: Day.optional(),
    exactness: z.enum(EXACTNESS),
    evidence: Line.optional(),
  })
  .meta({ id: 'PriorWork' })
export type PriorWork = z.infer<typeof PriorWork>

/** The earlier work that a person says caused it: one of our jobs, or a prior work. */
export const CausedBy = z.union([z.strictObject({ job_id: Id }), z.strictObject({ prior_work_id: Id })])

const findingFields = {
  vehicle_id: Id,
  job_id: Id.optional(),
  component: Name.meta({ title: 'What', description: 'A component of the catalogue, or a new name' }),
  failure_mode: Name.optional().meta({ title: 'How it failed', description: 'Worn, leaking, cracked, loose' }),
  severity: z.enum(SEVERITIES).meta({ title: 'What it puts at risk', input: 'radios' }),
  found_on: MotoringDay.meta({ title: 'Seen on' }),
  symptom: Name.optional().meta({ title: 'Symptom', description: 'If the customer had one' }),
  caused_by: CausedBy.optional(),
  advice: z.enum(ADVICES).optional().meta({ title: 'Advice', description: 'A technician’s word' }),
  limits: Line.optional().meta({ title: 'Within which limits', description: 'To what, and until when' }),
  note: Text.optional().meta({ title: 'What was seen, in words' }),
}

export const FindingInput = z.strictObject(findingFields).meta({ id: 'FindingInput' })
export type FindingInput = z.infer<typeof FindingInput>

export const Finding = z.strictObject({ ...RecordFields, ...findingFields, found_on: Day }).meta({ id: 'Finding' })
export type Finding = z.infer<typeof Finding>

/** Findings passed on to the customer in one talk; what came back stands in `said`: "refused to sign" is an answer. */
export const AdviceTellingInput = z
  .strictObject({
    finding_ids: z.array(Id).min(1).max(50).meta({ title: 'What was told' }),
    with: Name.meta({ title: 'Who was told' }),
    how: Name.meta({ title: 'How', description: 'At the desk, by telephone, by message.' }),
    said: Text.meta({ title: 'What came back', description: 'Understood, will not drive it, refused to sign' }),
  })
  .meta({ id: 'AdviceTellingInput' })
export type AdviceTellingInput = z.infer<typeof AdviceTellingInput>

/** The id is that of the talk. After an erasure "erased" stands in place of the words. */
export const AdviceTelling = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    finding_ids: z.array(Id),
    with: z.string(),
    how: z.string(),
    said: z.string(),
  })
  .meta({ id: 'AdviceTelling' })
export type AdviceTelling = z.infer<typeof AdviceTelling>

export const LookResultInput = z
  .strictObject({
    fine: z.boolean().optional().meta({ title: 'It is fine' }),
    finding_id: Id.optional().meta({ title: 'The finding that was made' }),
    skipped_reason: Line.optional().meta({ title: 'Not looked at, because' }),
  })
  .meta({ id: 'LookResultInput' })
export type LookResultInput = z.infer<typeof LookResultInput>

export const LookResult = z
  .strictObject({
    ...RecordFields,
    look_id: Id,
    fine: z.boolean().optional(),
    finding_id: Id.optional(),
    skipped_reason: Line.optional(),
  })
  .meta({ id: 'LookResult' })
export type LookResult = z.infer<typeof LookResult>

export const FinalCheckResultInput = z
  .strictObject({
    fine: z.boolean().meta({ title: 'It is fine' }),
    finding_id: Id.optional().meta({ title: 'The finding that was made' }),
  })
  .meta({ id: 'FinalCheckResultInput' })
export type FinalCheckResultInput = z.infer<typeof FinalCheckResultInput>

export const FinalCheckResult = z
  .strictObject({ ...RecordFields, final_check_id: Id, fine: z.boolean(), finding_id: Id.optional() })
  .meta({ id: 'FinalCheckResult' })
export type FinalCheckResult = z.infer<typeof FinalCheckResult>

/** A component checked to find what is wrong with the vehicle; `symptom` is the one that it was checked for. */
export const CheckMadeInput = z
  .strictObject({
    component: Name.meta({ title: 'What was checked' }),
    symptom: Name.optional().meta({ title: 'For which symptom' }),
    fine: z.boolean().optional().meta({ title: 'It is fine' }),
    finding_id: Id.optional().meta({ title: 'The finding that was made' }),
  })
  .meta({ id: 'CheckMadeInput' })
export type CheckMadeInput = z.infer<typeof CheckMadeInput>

export const CheckMade = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    component: Name,
    symptom: Name.optional(),
    fine: z.boolean(),
    finding_id: Id.optional(),
  })
  .meta({ id: 'CheckMade' })
export type CheckMade = z.infer<typeof CheckMade>

export const LeftForLaterInput = z
  .strictObject({
    vehicle_id: Id,
    finding_id: Id.optional(),
    text: Text.meta({ title: 'What was advised' }),
    amount_minor: Price.optional().meta({ title: 'Priced then at' }),
  })
  .meta({ id: 'LeftForLaterInput' })
export type LeftForLaterInput = z.infer<typeof LeftForLaterInput>

export const LeftForLater = z
  .strictObject({
    ...RecordFields,
    vehicle_id: Id,
    finding_id: Id.optional(),
    text: Text,
    amount_minor: Price.optional(),
    settled_by_job_id: Id.optional(),
  })
  .meta({ id: 'LeftForLater' })
export type LeftForLater = z.infer<typeof LeftForLater>

export const SettleLeftForLaterInput = z.strictObject({ job_id: Id }).meta({ id: 'SettleLeftForLaterInput' })
export type SettleLeftForLaterInput = z.infer<typeof SettleLeftForLaterInput>
