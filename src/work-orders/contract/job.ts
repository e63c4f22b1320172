import { z } from 'zod'
import { OPENING_BEARERS, PART_CONDITIONS, SEVERITIES } from '../../core/vocabulary.ts'
import { Id, Instant, Line, Name, RecordFields } from '../../platform/contract.ts'
import { JobMark, JobTool, ToolIn } from './bench.ts'
import { Hours, Quantity, UnitPrice } from './bounds.ts'

/** One operation, or a free-text task with its hours. `settles_finding_id` names the finding that this job puts right. */
export const JobInput = z
  .strictObject({
    operation_id: Id.optional().meta({ title: 'Operation' }),
    task: Line.optional().meta({ title: 'Task', description: 'In place of an operation: say what is to be done.' }),
    hours: Hours.optional(),
    settles_finding_id: Id.optional().meta({ title: 'Puts right' }),
  })
  .meta({ id: 'JobInput' })
export type JobInput = z.infer<typeof JobInput>

/** A strip-down step of a job's plan. `needs` are access steps; the step is open or closed for all jobs of the order. */
export const JobStep = z
  .strictObject({
    id: Id,
    access_step_id: Id,
    name: z.string(),
    hours: z.number(),
    needs: z.array(Id),
    is_open: z.boolean(),
    times_opened: z.int(),
  })
  .meta({ id: 'JobStep' })

/** `behind_step_id` is an access step. `revision` is the procedure's revision that was pinned when the job was added. */
export const JobJoint = z
  .strictObject({
    id: Id,
    name: z.string(),
    procedure_id: Id,
    procedure_revision_id: Id,
    revision: z.int(),
    behind_step_id: Id.optional(),
  })
  .meta({ id: 'JobJoint' })

export const JobLook = z
  .strictObject({
    id: Id,
    component: z.string(),
    component_id: Id,
    severity: z.enum(SEVERITIES),
    behind_step_id: Id.optional(),
    minutes: z.number(),
  })
  .meta({ id: 'JobLook' })

export const JobFinalCheck = z.strictObject({ id: Id, text: z.string() }).meta({ id: 'JobFinalCheck' })

export const PartLineInput = z
  .strictObject({
    part_id: Id.meta({ title: 'Part' }),
    quantity: Quantity.meta({ title: 'Quantity' }),
    batch: Name.optional().meta({ title: 'Batch' }),
    supplier_id: Id.optional().meta({ title: 'Supplier' }),
    condition: z.enum(PART_CONDITIONS).meta({ title: 'Condition', input: 'radios' }),
    cost_minor: UnitPrice.meta({ title: 'Cost of one', input: 'money' }),
    price_minor: UnitPrice.meta({ title: 'Price of one, before tax', input: 'money' }),
    joint_id: Id.optional().meta({ title: 'For the bolted joint' }),
  })
  .meta({ id: 'PartLineInput' })
export type PartLineInput = z.infer<typeof PartLineInput>

/** One with `removed` was taken off again: it is not charged, not issued and not fitted. */
export const PartLine = z
  .strictObject({
    ...RecordFields,
    job_id: Id,
    part_number: z.string(),
    part_name: z.string(),
    ...PartLineInput.shape,
    removed: z.strictObject({ at: Instant, by: Id.nullable(), reason: z.string() }).optional(),
  })
  .meta({ id: 'PartLine' })
export type PartLine = z.infer<typeof PartLine>

export const PartLineRemovalInput = z
  .strictObject({ reason: Line.meta({ title: 'Why it comes off', description: 'Not used, wrong part, wrong count' }) })
  .meta({ id: 'PartLineRemovalInput' })
export type PartLineRemovalInput = z.infer<typeof PartLineRemovalInput>

export const Voiding = z.strictObject({ ...RecordFields, job_id: Id, reason: z.string() }).meta({ id: 'Voiding' })
export type Voiding = z.infer<typeof Voiding>

export const VoidingInput = z.strictObject({ reason: Line.meta({ title: 'Reason' }) }).meta({ id: 'VoidingInput' })
export type VoidingInput = z.infer<typeof VoidingInput>

export const CompletionInput = z
  .strictObject({ at: Instant.optional().meta({ title: 'When' }) })
  .meta({ id: 'CompletionInput' })
export type CompletionInput = z.infer<typeof CompletionInput>

export const Completion = z.strictObject({ ...RecordFields, job_id: Id, at: Instant }).meta({ id: 'Completion' })
export type Completion = z.infer<typeof Completion>

/** A job with its plan. `voided_at` and `completed_at` say when somebody did so. */
export const Job = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    letter: z.string(),
    operation_id: Id.optional(),
    task: z.string(),
    hours: z.number(),
    warranty_days: z.int().optional(),
    warranty_km: z.number().optional(),
    settles_finding_id: Id.optional(),
    voided_at: Instant.optional(),
    completed_at: Instant.optional(),
    turns_engine: z.boolean(),
    sound_before_after: z.boolean(),
    steps: z.array(JobStep),
    joints: z.array(JobJoint),
    looks: z.array(JobLook),
    final_checks: z.array(JobFinalCheck),
    marks: z.array(JobMark),
    tools: z.array(JobTool),
    tools_in: z.array(ToolIn),
    part_lines: z.array(PartLine),
  })
  .meta({ id: 'Job' })
export type Job = z.infer<typeof Job>

/** Opened again after a closing, a step counts again: `reason` says why, `borne_by: us` that the customer does not pay it. */
export const OpeningInput = z
  .strictObject({
    at: Instant.optional().meta({ title: 'When' }),
    reason: Line.optional().meta({ title: 'Why again' }),
    borne_by: z.enum(OPENING_BEARERS).optional().meta({ title: 'Who pays for it', input: 'radios' }),
  })
  .meta({ id: 'OpeningInput' })
export type OpeningInput = z.infer<typeof OpeningInput>

export const Opening = z
  .strictObject({
    ...RecordFields,
    job_id: Id,
    step_id: Id,
    access_step_id: Id,
    at: Instant,
    reason: z.string().optional(),
    borne_by: z.enum(OPENING_BEARERS).optional(),
  })
  .meta({ id: 'Opening' })
export type Opening = z.infer<typeof Opening>

export const ClosingInput = z
  .strictObject({ at: Instant.optional().meta({ title: 'When' }) })
  .meta({ id: 'ClosingInput' })
export type ClosingInput = z.infer<typeof ClosingInput>

export const Closing = z
  .strictObject({ ...RecordFields, job_id: Id, step_id: Id, access_step_id: Id, at: Instant })
  .meta({ id: 'Closing' })
export type Closing = z.infer<typeof Closing>
