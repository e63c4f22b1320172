import { z } from 'zod'
import { DOUBT_CAUSES, SEVERITIES } from '../../core/vocabulary.ts'
import { Day, Id, Instant, Line, RecordFields } from '../../platform/contract.ts'

const Settled = z.strictObject({ how: Line, note: Line.optional(), at: Instant, by: Id.nullable() }).nullable()

/**
 * A joint that a bad wrench, gauge, part batch or procedure touched, or a correction after hand-back, until somebody settles
 * it. `cause_id`: the check, drop, batch fault, correcting revision or correcting record. `since`: the first of its records
 * that is touched; `known_at`: when that came out. `because` names the cause, `customer_sentence` says it to whoever owns
 * the vehicle. `left_on` is the day the vehicle last left, absent while it is in the house.
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

export const DoubtSettlementInput = z
  .strictObject({
    how: Line.meta({ title: 'How it is settled', description: 'What was looked at or done, and what it showed' }),
    note: Line.optional().meta({ title: 'Note' }),
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
  })
  .meta({ id: 'DoubtSettlement' })
export type DoubtSettlement = z.infer<typeof DoubtSettlement>

export const PartSettlement = z
  .strictObject({ ...RecordFields, batch_fault_id: Id, part_line_id: Id, how: Line, note: Line.optional() })
  .meta({ id: 'PartSettlement' })
export type PartSettlement = z.infer<typeof PartSettlement>

/** Settles at once all that one cause has put in doubt. */
export const CauseSettlementInput = z
  .strictObject({ cause: z.enum(DOUBT_CAUSES), cause_id: Id, ...DoubtSettlementInput.shape })
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
