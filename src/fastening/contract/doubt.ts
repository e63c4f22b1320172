import { z } from 'zod'
import { DOUBT_CAUSES, SEVERITIES, SIGNING_AS } from '../../core/vocabulary.ts'
import { Day, Id, Instant, Line, RecordFields } from '../../platform/contract.ts'

/** `checked_with`: the wrench that the torque was checked with. `second`: whoever looked too, where safety hangs on the joint. */
const Settled = z
  .strictObject({
    how: Line,
    note: Line.optional(),
    checked_with: Id.optional(),
    at: Instant,
    by: Id.nullable(),
    second: z.strictObject({ how: Line, at: Instant, by: Id.nullable() }).optional(),
  })
  .nullable()

/**
 * A joint that a bad wrench, gauge, part batch or procedure touched, or a correction after hand-back, until somebody settles
 * it. `cause_id`: the check, drop, batch fault, correcting revision or correcting record. `since`: the first of its records
 * that is touched; `known_at`: when that came out. `because` names the cause, `customer_sentence` says it to whoever owns
 * the vehicle. `left_on` is the day the vehicle last left, absent while it is in the house. `waits_for_second_person` is what
 * one person has said of a joint that safety hangs on, until a second one settles it.
 */
export const Doubt = z
  .strictObject({
    id: z.string(),
    cause: z.enum(DOUBT_CAUSES),
    cause_id: Id,
    because: z.string(),
    joint_id: Id,
    joint_name: Line,
    work_order_id: Id,
    work_order_number: z.string(),
    vehicle_id: Id,
    left_on: Day.optional(),
    severity: z.enum(SEVERITIES),
    since: Instant,
    known_at: Instant,
    sentence: z.string(),
    customer_sentence: z.string(),
    waits_for_second_person: Settled,
    settled: Settled,
  })
  .meta({ id: 'Doubt' })
export type Doubt = z.infer<typeof Doubt>

/** A part of a batch that was found bad, fitted without a word of the joint, until somebody settles it. */
export const PartInDoubt = z
  .strictObject({
    id: z.string(),
    batch_fault_id: Id,
    part_line_id: Id,
    because: z.string(),
    work_order_id: Id,
    work_order_number: z.string(),
    vehicle_id: Id,
    left_on: Day.optional(),
    since: Instant,
    known_at: Instant,
    sentence: z.string(),
    customer_sentence: z.string(),
    settled: Settled,
  })
  .meta({ id: 'PartInDoubt' })
export type PartInDoubt = z.infer<typeof PartInDoubt>

/**
 * Where safety hangs on the joint, `checked_with` is needed unless it was tightened anew since, and a second person settles it
 * with a word of their own.
 */
export const DoubtSettlementInput = z
  .strictObject({
    how: Line.meta({ title: 'How it is settled', description: 'What was looked at or done, and what it showed' }),
    note: Line.optional().meta({ title: 'Note' }),
    checked_with: Id.optional().meta({
      title: 'I checked its torque, or tightened it anew, with',
      description: 'To name a wrench is to say so: it stands on the fastening record',
    }),
  })
  .meta({ id: 'DoubtSettlementInput' })
export type DoubtSettlementInput = z.infer<typeof DoubtSettlementInput>

export const DoubtSettlement = z
  .strictObject({
    ...RecordFields,
    joint_id: Id,
    cause: z.enum(DOUBT_CAUSES),
    cause_id: Id,
    how: Line,
    note: Line.optional(),
    checked_with: Id.optional(),
    as: z.enum(SIGNING_AS).optional(),
  })
  .meta({ id: 'DoubtSettlement' })
export type DoubtSettlement = z.infer<typeof DoubtSettlement>

/** A fitted part of which no joint is known: there is no torque to check. */
export const PartSettlementInput = DoubtSettlementInput.omit({ checked_with: true }).meta({ id: 'PartSettlementInput' })
export type PartSettlementInput = z.infer<typeof PartSettlementInput>

export const PartSettlement = z
  .strictObject({ ...RecordFields, batch_fault_id: Id, part_line_id: Id, how: Line, note: Line.optional() })
  .meta({ id: 'PartSettlement' })
export type PartSettlement = z.infer<typeof PartSettlement>

/** Settles at once all that one cause has put in doubt. */
export const CauseSettlementInput = z
  .strictObject({ cause: z.enum(DOUBT_CAUSES), cause_id: Id, ...PartSettlementInput.shape })
  .meta({ id: 'CauseSettlementInput' })
export type CauseSettlementInput = z.infer<typeof CauseSettlementInput>

export const CauseSettlement = z
  .strictObject({
    cause: z.enum(DOUBT_CAUSES),
    cause_id: Id,
    settlements: z.array(DoubtSettlement),
    part_settlements: z.array(PartSettlement),
  })
  .meta({ id: 'CauseSettlement' })
export type CauseSettlement = z.infer<typeof CauseSettlement>
