import { z } from 'zod'
import { LEAST_TORQUE } from '../core/fastening/least-torque.ts'
import { LAYOUTS, ON_FAILURE, ORDER_NAMES, REUSE, SEVERITIES, STAGE_KINDS } from '../core/vocabulary.ts'
import { Id, Line, Name, Price, patchOf, RecordFields, Text } from '../platform/contract.ts'
import { EditableFields, Warning } from '../vehicles/contract.ts'

/**
 * `operation`, `component`, `failure_mode` and `symptom` are unique names; `*_id` are ids. A name that differs from a known
 * one in case or blanks only is that one. In the catalogue itself an unknown name is refused (422).
 */
export const NameInput = z.strictObject({ name: Name.meta({ title: 'Name' }) }).meta({ id: 'NameInput' })
export type NameInput = z.infer<typeof NameInput>

const Names = z.array(Name).max(200)
const Ids = z.array(Id).max(200)
const Hours = z.number().nonnegative().max(1000)
const Minutes = z.number().nonnegative().max(10_000)
const Severity = z.enum(SEVERITIES)

export const ComponentInput = z
  .strictObject({
    name: Name.meta({ title: 'Name' }),
    severity: Severity.meta({ title: 'When it fails', input: 'radios' }),
    causes: Names.meta({ title: 'Symptoms it can cause' }),
    check_minutes: Minutes.meta({ title: 'Checking it takes', unit: 'min', classes: 'short' }),
    access_step_ids: Ids.meta({ title: 'Strip-down before it can be checked' }),
    makes_safe: z.boolean().optional().meta({ title: 'Checking it makes the vehicle safe, so it comes first' }),
    not_before: Names.optional().meta({ title: 'Not to be checked before' }),
    caution: Text.max(2000).optional().meta({ title: 'Caution', input: 'textarea' }),
    remedy_operation_id: Id.optional().meta({ title: 'Operation that puts it right' }),
    remedy_part_minor: Price.optional().meta({ title: 'Part for it costs', classes: 'short', input: 'money' }),
  })
  .meta({ id: 'ComponentInput' })
export type ComponentInput = z.infer<typeof ComponentInput>
export const ComponentPatch = patchOf(ComponentInput).meta({ id: 'ComponentPatch' })
export type ComponentPatch = z.infer<typeof ComponentPatch>

/** `severity` and `check_minutes` are absent until somebody has said them: names that came with a record or an import. */
export const Component = z
  .strictObject({
    ...EditableFields,
    ...ComponentInput.shape,
    severity: Severity.optional(),
    check_minutes: z.number().optional(),
    makes_safe: z.boolean(),
    not_before: z.array(z.string()),
  })
  .meta({ id: 'Component' })
export type Component = z.infer<typeof Component>

export const AccessStepInput = z
  .strictObject({
    name: Name.meta({ title: 'Name' }),
    hours: Hours.meta({ title: 'Hours, out and in again', unit: 'h', classes: 'short' }),
    needs: Ids.meta({ title: 'Needs first' }),
    exposes: Names.meta({ title: 'Exposes' }),
    disturbs: Names.meta({ title: 'Disturbs' }),
  })
  .meta({ id: 'AccessStepInput' })
export type AccessStepInput = z.infer<typeof AccessStepInput>
export const AccessStepPatch = patchOf(AccessStepInput).meta({ id: 'AccessStepPatch' })
export type AccessStepPatch = z.infer<typeof AccessStepPatch>

export const AccessStep = z.strictObject({ ...EditableFields, ...AccessStepInput.shape }).meta({ id: 'AccessStep' })
export type AccessStep = z.infer<typeof AccessStep>

/** A step named by `behind_step_id` is one of the operation's steps or of those that they need. */
export const OperationInput = z
  .strictObject({
    name: Name.meta({ title: 'Name' }),
    hours: Hours.meta({ title: 'Own hours, without strip-down', unit: 'h', classes: 'short' }),
    access_step_ids: Ids.meta({ title: 'Strip-down' }),
    joints: z
      .array(
        z.strictObject({
          name: Name.meta({ title: 'Bolted joint' }),
          procedure_id: Id.meta({ title: 'Tightened by' }),
          behind_step_id: Id.optional().meta({ title: 'Behind' }),
        }),
      )
      .max(100)
      .meta({ title: 'Bolted joints' }),
    looks: z
      .array(
        z.strictObject({
          component: Name.meta({ title: 'Look at' }),
          severity: Severity.meta({ title: 'When it fails' }),
          behind_step_id: Id.optional().meta({ title: 'Behind' }),
          minutes: Minutes.meta({ title: 'Takes', unit: 'min', classes: 'short' }),
        }),
      )
      .max(100)
      .meta({ title: 'Looks' }),
    final_checks: z
      .array(Line.meta({ title: 'Final check' }))
      .max(100)
      .meta({ title: 'Final checks' }),
    marks: z
      .array(
        z.strictObject({
          text: Line.meta({ title: 'Mark or photograph' }),
          behind_step_id: Id.optional().meta({ title: 'Can be seen only behind' }),
          before_step_id: Id.optional().meta({ title: 'Before this is opened' }),
          photo: z.boolean().optional().meta({ title: 'A photograph is asked for' }),
        }),
      )
      .max(100)
      .optional()
      .meta({ title: 'Position marks' }),
    tools: z
      .array(
        z.strictObject({
          tool: Line.meta({ title: 'Tool that goes in' }),
          count: z.int().min(1).max(1000).optional().meta({ title: 'How many', classes: 'short' }),
          for_step_id: Id.optional().meta({ title: 'Needed for' }),
          before_step_id: Id.optional().meta({ title: 'Must be out before this is closed' }),
        }),
      )
      .max(100)
      .optional()
      .meta({ title: 'Tools that go into the vehicle' }),
    turns_engine: z.boolean().optional().meta({
      title: 'The engine is turned afterwards',
      description: 'Then it is first turned by hand, with every tool out, before anybody starts it.',
    }),
    sound_before_after: z.boolean().optional().meta({ title: 'Its sound is recorded before and after' }),
    warranty_days: z
      .int()
      .nonnegative()
      .max(36_500)
      .optional()
      .meta({ title: 'Warranty', unit: 'days', classes: 'short' }),
    warranty_km: z
      .number()
      .nonnegative()
      .max(10_000_000)
      .optional()
      .meta({ title: 'Warranty', unit: 'km', classes: 'short' }),
  })
  .meta({ id: 'OperationInput' })
export type OperationInput = z.infer<typeof OperationInput>
export const OperationPatch = patchOf(OperationInput).meta({ id: 'OperationPatch' })
export type OperationPatch = z.infer<typeof OperationPatch>

/** `hours` is absent until somebody has said it. */
export const Operation = z
  .strictObject({ ...EditableFields, ...OperationInput.shape, hours: z.number().optional() })
  .meta({ id: 'Operation' })
export type Operation = z.infer<typeof Operation>

const Newtonmetres = z.number().min(LEAST_TORQUE).max(100_000)

/**
 * Torque and check in N·m, angle and loosen in degrees (at most 1440). Limits left out are the workshop's default tolerance.
 * A torque above twice what would load the bolt to its proof load is refused, without thread and class one above 3000 N·m.
 */
export const Stage = z
  .strictObject({
    kind: z.enum(STAGE_KINDS).meta({ title: 'Stage' }),
    target: Newtonmetres.meta({
      title: 'Target',
      description:
        'N·m of a torque or check, degrees of an angle or loosening. At most 1440°; at most twice the torque that would load the bolt to its proof load, or 3000 N·m where thread or property class are not said',
      classes: 'short',
    }),
    lower: z.number().nonnegative().max(100_000).optional().meta({ title: 'Lower limit', classes: 'short' }),
    upper: Newtonmetres.optional().meta({ title: 'Upper limit', classes: 'short' }),
  })
  .meta({ id: 'ProcedureStage' })
export type Stage = z.infer<typeof Stage>

const Coordinate = z.number().min(-100_000).max(100_000)
const across = Coordinate.meta({ title: 'Across', unit: 'mm', classes: 'short' })
const down = Coordinate.meta({ title: 'Down', unit: 'mm', classes: 'short' })
const Count = z.int().min(1).max(200)

/**
 * `positions` or `count`; `rows` for a rectangle that is only counted; a free layout needs positions. `order` with
 * `order_names` is the maker's own order, which always wins. `supersedes` with a `reason` says that an earlier revision was
 * wrong, which puts the joints made by it in doubt; a plain new revision names none.
 */
export const ProcedureRevisionInput = z
  .strictObject({
    layout: z.enum(LAYOUTS).meta({ title: 'Layout', input: 'radios' }),
    positions: z
      .array(z.strictObject({ x_mm: across, y_mm: down }))
      .min(1)
      .max(200)
      .optional()
      .meta({ title: 'Positions in mm' }),
    count: Count.optional().meta({ title: 'Number of fasteners', classes: 'short' }),
    rows: Count.optional().meta({ title: 'Rows of a rectangle', classes: 'short' }),
    order: z.array(z.int().min(1).max(200)).min(1).max(200).optional().meta({ title: 'The maker’s own order' }),
    order_names: z.enum(ORDER_NAMES).optional().meta({ title: 'Its numbers name', input: 'radios' }),
    stages: z.array(Stage).min(1).max(12).meta({ title: 'Stages' }),
    thread: Name.max(60)
      .optional()
      .meta({ title: 'Thread', description: 'As M10x1.25; M10 is the coarse pitch', classes: 'short' }),
    class: Name.max(60)
      .optional()
      .meta({ title: 'Property class', description: 'As 8.8 or 10.9, from the head', classes: 'short' }),
    finish: Line.optional().meta({ title: 'Finish and lubrication', description: 'As zinc flake, oiled, dry' }),
    marks: z
      .array(Line.meta({ title: 'Mark' }))
      .max(50)
      .optional()
      .meta({ title: 'Position marks before removal' }),
    reuse: z.enum(REUSE).meta({ title: 'Fasteners may be used again', input: 'radios' }),
    severity: Severity.meta({ title: 'When the joint fails', input: 'radios' }),
    on_failure: z.enum(ON_FAILURE).meta({ title: 'When one fails, slips or is disturbed', input: 'radios' }),
    source: Line.meta({ title: 'Source', description: 'The maker’s manual, its edition and page' }),
    supersedes: Id.optional().meta({ title: 'Revision that was wrong' }),
    reason: Line.optional().meta({ title: 'What was wrong with it' }),
  })
  .meta({ id: 'ProcedureRevisionInput' })
export type ProcedureRevisionInput = z.infer<typeof ProcedureRevisionInput>

/** `count` is always there; `supersedes` and `reason` only on a correction; `warnings` is what ought to be compared again. */
export const ProcedureRevision = z
  .strictObject({
    ...RecordFields,
    procedure_id: Id,
    revision: z.int().positive(),
    ...ProcedureRevisionInput.shape,
    count: Count,
    warnings: z.array(Warning),
  })
  .meta({ id: 'ProcedureRevision' })
export type ProcedureRevision = z.infer<typeof ProcedureRevision>

/** `revision` is the number of the newest one, absent before the first. */
export const Procedure = z
  .strictObject({ ...RecordFields, name: z.string(), revision: z.int().positive().optional() })
  .meta({ id: 'Procedure' })
export type Procedure = z.infer<typeof Procedure>
