import { z } from 'zod'
import { ENGINE_TURNS } from '../../core/vocabulary.ts'
import { Id, Instant, Line, Name, RecordFields } from '../../platform/contract.ts'

const When = Instant.optional().meta({ title: 'When' })
const ToolCount = z.int().min(1).max(1000)

/** `before_step_id` and `joint_id` say what the mark must come before. `made_at` once it was made. */
export const JobMark = z
  .strictObject({
    id: Id,
    text: z.string(),
    before_step_id: Id.optional(),
    joint_id: Id.optional(),
    made_at: Instant.optional(),
  })
  .meta({ id: 'JobMark' })
export type JobMark = z.infer<typeof JobMark>

/** A tool that the plan says will go in: the access step that it is needed for, and the one before which it must be out. */
export const JobTool = z
  .strictObject({
    id: Id,
    tool: z.string(),
    count: z.int(),
    for_step_id: Id.optional(),
    before_step_id: Id.optional(),
  })
  .meta({ id: 'JobTool' })

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
    before_step_id: Id.optional().meta({ title: 'Must come out before', description: 'Left out: before hand-back.' }),
    job_tool_id: Id.optional().meta({ title: 'Tool of the plan' }),
    at: When,
  })
  .meta({ id: 'ToolInInput' })
export type ToolInInput = z.infer<typeof ToolInInput>

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
  })
  .meta({ id: 'ToolIn' })
export type ToolIn = z.infer<typeof ToolIn>

/** Where several went in, `count` says how many came out: the same number, or it is refused. */
export const RemovalInput = z
  .strictObject({ at: When, count: z.int().min(0).max(100_000).optional().meta({ title: 'How many came out' }) })
  .meta({ id: 'RemovalInput' })
export type RemovalInput = z.infer<typeof RemovalInput>

export const Removal = z.strictObject({ ...RecordFields, tool_in_id: Id, at: Instant }).meta({ id: 'Removal' })
export type Removal = z.infer<typeof Removal>

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
