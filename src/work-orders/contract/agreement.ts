import { z } from 'zod'
import { LINE_KINDS, YES_HOW, YES_WORDS } from '../../core/vocabulary.ts'
import { BasisPoints, Id, Instant, Line, MinorMoney, Name, Price, RecordFields, Text } from '../../platform/contract.ts'
import { Quantity, UnitPrice } from './bounds.ts'

export const TaxOfRate = z.strictObject({ tax_bp: BasisPoints, net_minor: MinorMoney, tax_minor: MinorMoney })

export const TalkInput = z
  .strictObject({
    with: Name.meta({ title: 'With whom' }),
    how: Name.meta({ title: 'How', description: 'At the desk, by telephone, by message.' }),
    said: Text.meta({ title: 'What was said' }),
    promised: Line.optional().meta({ title: 'What was promised' }),
  })
  .meta({ id: 'TalkInput' })
export type TalkInput = z.infer<typeof TalkInput>

/** After an erasure "erased" stands in place of the words. */
export const Talk = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    with: z.string(),
    how: z.string(),
    said: z.string(),
    promised: z.string().optional(),
  })
  .meta({ id: 'Talk' })
export type Talk = z.infer<typeof Talk>

export const EstimateLine = z
  .strictObject({
    kind: z.enum(LINE_KINDS).meta({ title: 'Kind' }),
    job_id: Id.optional().meta({ title: 'Job' }),
    part_id: Id.optional().meta({ title: 'Part' }),
    text: Line.meta({ title: 'Text' }),
    quantity: Quantity.meta({ title: 'Quantity' }),
    unit_minor: UnitPrice.meta({ title: 'Price of one, before tax', input: 'money' }),
    tax_bp: BasisPoints.meta({ title: 'Tax' }),
  })
  .meta({ id: 'EstimateLine' })
export type EstimateLine = z.infer<typeof EstimateLine>

export const EstimateInput = z
  .strictObject({
    lines: z.array(EstimateLine).min(1).max(200).meta({ title: 'Lines' }),
    discount_minor: Price.optional().meta({ title: 'Discount, before tax', input: 'money' }),
  })
  .meta({ id: 'EstimateInput' })
export type EstimateInput = z.infer<typeof EstimateInput>

/** A version of the estimate. Net, tax and gross are after the discount. */
export const Estimate = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    version: z.int(),
    lines: z.array(z.strictObject({ ...EstimateLine.shape, line_minor: MinorMoney }).meta({ id: 'EstimatedLine' })),
    discount_minor: Price.optional(),
    net_minor: MinorMoney,
    tax: z.array(TaxOfRate),
    gross_minor: MinorMoney,
  })
  .meta({ id: 'Estimate' })
export type Estimate = z.infer<typeof Estimate>

/** A yes to a total: work may go up to it, it is not added to an earlier yes. */
export const AuthorisationInput = z
  .strictObject({
    estimate_id: Id.optional().meta({ title: 'Estimate' }),
    amount_minor: Price.max(1_000_000_000_000).meta({ title: 'Up to', input: 'money' }),
    includes_tax: z.boolean().meta({ title: 'Tax is in it' }),
    said_by: Name.meta({ title: 'Who said yes' }),
    how: z.enum(YES_HOW).meta({ title: 'How', labels: YES_WORDS }),
    at: Instant.optional().meta({ title: 'When' }),
  })
  .meta({ id: 'AuthorisationInput' })
export type AuthorisationInput = z.infer<typeof AuthorisationInput>

/** It was written down wrongly: it counts no more. */
export const AuthorisationWithdrawalInput = z
  .strictObject({
    reason: Line.meta({
      title: 'Why it does not hold',
      description: 'Mistyped, another order’s, or the customer has thought again',
    }),
  })
  .meta({ id: 'AuthorisationWithdrawalInput' })
export type AuthorisationWithdrawalInput = z.infer<typeof AuthorisationWithdrawalInput>

/** One with `withdrawn` counts no more. */
export const Authorisation = z
  .strictObject({
    ...RecordFields,
    work_order_id: Id,
    estimate_id: Id.optional(),
    amount_minor: Price,
    includes_tax: z.boolean(),
    said_by: z.string(),
    how: z.enum(YES_HOW),
    at: Instant,
    withdrawn: z.strictObject({ at: Instant, by: Id.nullable(), reason: z.string() }).optional(),
  })
  .meta({ id: 'Authorisation' })
export type Authorisation = z.infer<typeof Authorisation>
