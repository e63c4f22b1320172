import { z } from 'zod'
import { RESUMPTIONS, SECOND_LOOKS, SEVERITIES, SIGNING_AS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, Reason, RecordFields } from '../../platform/contract.ts'

/** `looked_at` is said by a second person, whole or not at all: marks, count and stripe. */
export const SignOffInput = z
  .strictObject({
    as: z.enum(SIGNING_AS).meta({ title: 'Signing as' }),
    looked_at: z.array(z.enum(SECOND_LOOKS)).max(3).optional().meta({
      title: 'Looked at',
      description: 'The second person looks at marks, count and stripe, and turns nothing',
    }),
  })
  .meta({ id: 'SignOffInput' })
export type SignOffInput = z.infer<typeof SignOffInput>

/** `same_person_after_minutes`: the second look was that of somebody who had tightened, so long after the first signature. */
export const SignOff = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    as: z.enum(SIGNING_AS),
    looked_at: z.array(z.enum(SECOND_LOOKS)).optional(),
    same_person_after_minutes: z.int().optional(),
  })
  .meta({ id: 'SignOff' })
export type SignOff = z.infer<typeof SignOff>

export const JointLeavingInput = z
  .strictObject({ reason: Line.meta({ title: 'Why it is left here' }) })
  .meta({ id: 'JointLeavingInput' })
export type JointLeavingInput = z.infer<typeof JointLeavingInput>

export const JointResumptionInput = z
  .strictObject({ how: z.enum(RESUMPTIONS).meta({ title: 'How it goes on', input: 'radios' }) })
  .meta({ id: 'JointResumptionInput' })
export type JointResumptionInput = z.infer<typeof JointResumptionInput>

export const JointResumption = z
  .strictObject({ ...RecordFields, leaving_id: Id, how: z.enum(RESUMPTIONS), at: Instant })
  .meta({ id: 'JointResumption' })
export type JointResumption = z.infer<typeof JointResumption>

/** A joint left half way: by whom, where (the fastener that was next), why; and who took it up again, and how. */
export const JointLeaving = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    by_name: z.string(),
    reason: Line,
    position: z.int().optional(),
    stage: z.int().optional(),
    at: Instant,
    resumed: z
      .strictObject({
        id: Id,
        how: z.enum(RESUMPTIONS),
        at: Instant,
        by: Id.nullable(),
        by_name: z.string(),
      })
      .nullable(),
  })
  .meta({ id: 'JointLeaving' })
export type JointLeaving = z.infer<typeof JointLeaving>

export const FastenerInspectionInput = z
  .strictObject({
    fit: z.boolean().meta({ title: 'Fit for use again', input: 'radios' }),
    note: Line.optional().meta({ title: 'Note' }),
  })
  .meta({ id: 'FastenerInspectionInput' })
export type FastenerInspectionInput = z.infer<typeof FastenerInspectionInput>

export const FastenerInspection = z
  .strictObject({ ...RecordFields, joint_id: Id, fit: z.boolean(), note: Line.optional() })
  .meta({ id: 'FastenerInspection' })
export type FastenerInspection = z.infer<typeof FastenerInspection>

export const TemporaryUseInput = z
  .strictObject({ reason: Line.meta({ title: 'Why the old fasteners go in again' }) })
  .meta({ id: 'TemporaryUseInput' })
export type TemporaryUseInput = z.infer<typeof TemporaryUseInput>

export const TemporaryUse = z
  .strictObject({ ...RecordFields, joint_id: Id, reason: Line, at: Instant })
  .meta({ id: 'TemporaryUse' })
export type TemporaryUse = z.infer<typeof TemporaryUse>

/** One joint as it stands: derived from its records and sign-offs. */
export const Joint = z
  .strictObject({
    ...RecordFields,
    job_id: Id,
    name: Line,
    procedure_revision_id: Id,
    severity: z.enum(SEVERITIES),
    complete: z.boolean(),
    signed: z.boolean(),
    needs_second_person: z.boolean(),
    sentence: z.string(),
    next: z
      .strictObject({
        action: z.enum(['tighten', 'restart', 'replace']),
        position: z.int(),
        fastener: z.int(),
        stage: z.int(),
      })
      .nullable(),
    /** What stands in the way of signing. */
    blockers: z.array(Reason),
    /** Old single-use fasteners are in it, to move the vehicle inside the house: never for the road. */
    temporary: z.boolean(),
    /** How many new fasteners must have been issued to it, and how many were, with their batch; null: they may be used again. */
    new_fasteners: z.strictObject({ needed: z.number(), issued: z.number() }).nullable(),
    left: JointLeaving.nullable(),
    leavings: z.array(JointLeaving),
  })
  .meta({ id: 'Joint' })
export type Joint = z.infer<typeof Joint>
