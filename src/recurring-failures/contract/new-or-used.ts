import { z } from 'zod'
import { PART_CONDITIONS, SEVERITIES } from '../../core/vocabulary.ts'
import { Day, MinorMoney, Name, Price } from '../../platform/contract.ts'

/** The component that a part is for; prices as they are known, a new one’s else that of the catalogue. */
export const NewOrUsedInput = z
  .strictObject({
    component: Name,
    prices: z
      .strictObject({ new: Price.optional(), used: Price.optional(), reconditioned: Price.optional() })
      .optional(),
  })
  .meta({ id: 'NewOrUsedInput' })
export type NewOrUsedInput = z.infer<typeof NewOrUsedInput>

const Offer = z.strictObject({
  condition: z.enum(PART_CONDITIONS),
  n: z.int(),
  n_failed: z.int(),
  chance: z.number(),
  borrows: z.boolean(),
  price_minor: MinorMoney.nullable(),
  expected_minor: MinorMoney.nullable(),
  tie_price_minor: MinorMoney.nullable(),
  tie_discount_minor: MinorMoney,
})

/**
 * Of `n` such jobs with a part of that condition, `n_failed` were followed by a failure of the component within the term; with
 * fewer than ten the chance `borrows` from all such jobs. `expected` is the price and the chance times `cost_later`; at
 * `tie_price`, so much below a new one, both cost the same. Null where no price is known.
 */
export const NewOrUsed = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    component: z.string(),
    operation: z.string(),
    severity: z.enum(SEVERITIES).optional(),
    term_days: z.int(),
    cost_later_minor: MinorMoney,
    n_all: z.int(),
    n_failed_all: z.int(),
    offers: z.array(Offer),
  })
  .meta({ id: 'NewOrUsed' })
export type NewOrUsed = z.infer<typeof NewOrUsed>
