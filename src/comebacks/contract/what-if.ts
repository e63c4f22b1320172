import { z } from 'zod'
import { Day, MinorMoney, Name } from '../../platform/contract.ts'

/** A look that might be put on every job of an operation. */
export const WhatIfQuery = z
  .strictObject({
    operation: Name.meta({ title: 'On every job of' }),
    component: Name.meta({ title: 'look at' }),
    minutes: z.number().positive().max(600).meta({ title: 'which takes', unit: 'min', classes: 'short' }),
  })
  .meta({ id: 'WhatIfQuery' })
export type WhatIfQuery = z.infer<typeof WhatIfQuery>

const Rate = z.number().nullable()

/**
 * Rates a year are null while the history spans no day; money in minor units. `is_asked_for`: every job of the operation asks
 * for the look already.
 */
export const WhatIf = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    jobs: z.int(),
    years: z.number(),
    jobs_a_year: Rate,
    minutes_a_year: Rate,
    cost_a_year_minor: MinorMoney.nullable(),
    caught: z.int(),
    caught_a_year: Rate,
    lower: Rate,
    upper: Rate,
    returns_cost_minor: MinorMoney,
    returns_cost_a_year_minor: MinorMoney.nullable(),
    returns_costed: z.int(),
    is_asked_for: z.boolean(),
  })
  .meta({ id: 'WhatIf' })
export type WhatIf = z.infer<typeof WhatIf>
