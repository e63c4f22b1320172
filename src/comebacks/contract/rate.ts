import { z } from 'zod'
import { Day } from '../../platform/contract.ts'

const RATE_GROUPS = ['month', 'operation', 'cause', 'supplier', 'family'] as const

/** Which jobs: those handed back from `from` to `to`. */
export const ComebackRateQuery = z
  .strictObject({
    by: z.enum(RATE_GROUPS).optional().meta({ title: 'By', description: 'month when left out.' }),
    from: Day.optional().meta({ title: 'Handed back from' }),
    to: Day.optional().meta({ title: 'to' }),
    as_of: Day.optional().meta({ title: 'As known on', description: 'Left out: today.' }),
  })
  .meta({ id: 'ComebackRateQuery' })
export type ComebackRateQuery = z.infer<typeof ComebackRateQuery>

const Share = z.number().nullable()

/** `key` is '' for jobs without one (no operation, no stated cause). `rate` and its limits are null without a job. */
export const ComebackRateGroup = z
  .strictObject({
    key: z.string(),
    jobs: z.int(),
    comebacks: z.int(),
    rate: Share,
    lower: Share,
    upper: Share,
    limit_lower: Share,
    limit_upper: Share,
    still_open: z.strictObject({ jobs: z.int(), comebacks: z.int() }),
  })
  .meta({ id: 'ComebackRateGroup' })
export type ComebackRateGroup = z.infer<typeof ComebackRateGroup>

export const ComebackRate = z
  .strictObject({ as_of: Day, method: z.string(), groups: z.array(ComebackRateGroup) })
  .meta({ id: 'ComebackRate' })
export type ComebackRate = z.infer<typeof ComebackRate>
