import { z } from 'zod'
import { ENGINE_TURNS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, Name, RecordFields } from '../../platform/contract.ts'

const When = Instant.optional().meta({ title: 'When' })
const ToolCount = z.int().min(1).max(1000)

/**
 * `before_step_id` and `joint_id` say what the mark must come before, `behind_step_id` behind what it can be seen. `photo`:
 * a photograph is asked for. `made_at` once it was made.
 */
export const JobMark = z
  .strictObject({
    id: Id,
    text: z.string(),
    behind_step_id: Id.optional(),
    before_step_id: Id.optional(),
    photo: z.boolean().optional(),
    joint_id: Id.optional(),
    made_at: Instant.optional(),
  })
  .meta({ id: 'JobMark' })
export type JobMark = z.infer<typeof JobMark>

/**
 * A tool that the plan says will go in: the access step that it is needed for, and the one before which it must be out. With
 * `not_used` somebody has said why it did not.
 */
export const JobTool = z
  .strictObject({
    id: Id,
    tool: z.string(),
    count: z.int(),
    for_step_id: Id.optional(),
    before_step_id: Id.optional(),
    not_used: z.strictObject({ at: Instant, by: Id.nullable(), reason: z.string() }).optional(),
  })
  .meta({ id: 'JobTool' })
export type JobTool = z.infer<typeof JobTool>

export const ToolOmissionInput = z
  .strictObject({ reason: Line.meta({ title: 'Why it was not used', description: 'It stays on the record' }) })
  .meta({ id: 'ToolOmissionInput' })
export type ToolOmissionInput = z.infer<typeof ToolOmissionInput>

export const MarkRecordInput = z
  .strictObject({ at: When, note: Line.optional().meta({ title: 'Note' }) })
  .meta({ id: 'MarkRecordInput' })
export type MarkRecordInput = z.infer<typeof MarkRecordInput>

export const MarkRecord = z
  .strictObject({ ...RecordFields, mark_id: Id, at: Instant, note: z.string().optional() })
  .meta({ id: 'MarkRecord' })
export type MarkRecord = z.infer<typeof MarkRecord>

/** `count` is how many of it: one, when left out. `job_tool_id` says which tool of the job's plan it is. */
export const ToolInInput = z
  .strictObject({
    tool: Name.meta({ title: 'Tool' }),
    count: ToolCount.optional().meta({ title: 'How many', classes: 'short' }),
    for_step_id: Id.optional().meta({ title: 'Needed for' }),
    before_step_id: Id.optional().meta({
      title: 'Must be out before this is closed',
      description: 'Left out: before any open step is closed.',
    }),
    job_tool_id: Id.optional().meta({ title: 'Tool of the plan' }),
    at: When,
  })
  .meta({ id: 'ToolInInput' })
export type ToolInInput = z.infer<typeof ToolInInput>

/** `missing` while it is in and fewer were counted out than went in: how many are lost, and where they may be. */
export const ToolIn = z
  .strictObject({
    ...RecordFields,
    job_id: Id,
    tool: z.string(),
    count: z.int(),
    for_step_id: Id.optional(),
    before_step_id: Id.optional(),
    job_tool_id: Id.optional(),
    at: Instant,
    removed_at: Instant.optional(),
    missing: z.strictObject({ count: z.int(), may_be: z.string() }).optional(),
  })
  .meta({ id: 'ToolIn' })
export type ToolIn = z.infer<typeof ToolIn>

const CountedOut = z.int().min(0).max(100_000).meta({ title: 'How many came out', classes: 'short' })

/**
 * Where several went in, `count` says how many came out: the same number, or it is refused; unless `not_inside` says how the
 * owner knows that the rest is not in the vehicle.
 */
export const RemovalInput = z
  .strictObject({
    at: When,
    count: CountedOut.optional(),
    not_inside: Line.optional().meta({
      title: 'It is not in the vehicle: how you know',
      description: 'Only the owner says so. It stays on the record',
    }),
  })
  .meta({ id: 'RemovalInput' })
export type RemovalInput = z.infer<typeof RemovalInput>

export const Removal = z
  .strictObject({
    ...RecordFields,
    tool_in_id: Id,
    at: Instant,
    count: z.int().optional(),
    not_inside: z.string().optional(),
  })
  .meta({ id: 'Removal' })
export type Removal = z.infer<typeof Removal>

/** Fewer came out than went in: `count` did, and `may_be` says where the rest may be. */
export const ShortfallInput = z
  .strictObject({
    at: When,
    count: CountedOut,
    may_be: Line.meta({ title: 'Where the rest may be', description: 'As in the sump, under the lift' }),
  })
  .meta({ id: 'ShortfallInput' })
export type ShortfallInput = z.infer<typeof ShortfallInput>

export const Shortfall = z
  .strictObject({ ...RecordFields, tool_in_id: Id, count: z.int(), may_be: z.string(), at: Instant })
  .meta({ id: 'Shortfall' })
export type Shortfall = z.infer<typeof Shortfall>

/** Turned by hand, or started. */
export const EngineTurnInput = z
  .strictObject({
    how: z.enum(ENGINE_TURNS).meta({ title: 'How', input: 'radios' }),
    at: When,
    note: Line.optional().meta({ title: 'Note' }),
  })
  .meta({ id: 'EngineTurnInput' })
export type EngineTurnInput = z.infer<typeof EngineTurnInput>

export const EngineTurn = z
  .strictObject({ ...RecordFields, job_id: Id, how: z.enum(ENGINE_TURNS), at: Instant, note: z.string().optional() })
  .meta({ id: 'EngineTurn' })
export type EngineTurn = z.infer<typeof EngineTurn>

export const ClockInput = z.strictObject({ at: When }).meta({ id: 'ClockInput' })
export type ClockInput = z.infer<typeof ClockInput>

/** `created_by` is whose clock it is. */
export const ClockStart = z
  .strictObject({ ...RecordFields, job_id: Id, at: Instant, stopped_at: Instant.optional() })
  .meta({ id: 'ClockStart' })
export type ClockStart = z.infer<typeof ClockStart>

export const ClockStop = z.strictObject({ ...RecordFields, clock_start_id: Id, at: Instant }).meta({ id: 'ClockStop' })
export type ClockStop = z.infer<typeof ClockStop>
