import { z } from 'zod'
import { Day } from '../platform/contract.ts'

const AsOf = Day.meta({ title: 'As known on', description: 'Left out: today.' })

export const WarrantyExposureQuery = z.strictObject({ as_of: AsOf.optional() }).meta({ id: 'WarrantyExposureQuery' })
export type WarrantyExposureQuery = z.infer<typeof WarrantyExposureQuery>

const Quantiles = z.strictObject({ p05: z.int(), p50: z.int(), p95: z.int() })

/** Free-text tasks are one row without a name, so that the rows add up to the whole. `jobs` are those in warranty with no confirmed comeback. */
export const ExposedOperation = z
  .strictObject({
    operation: z.string().meta({ description: 'Its name; empty: all tasks in the shop’s own words, which have none.' }),
    jobs: z.int(),
    observed: z.int(),
    expected: z.number(),
    multiplier: z.number(),
    expected_claims: z.number(),
    expected_cost_minor: z.int(),
  })
  .meta({ id: 'ExposedOperation' })
export type ExposedOperation = z.infer<typeof ExposedOperation>

export const WarrantyExposure = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    jobs: z.int(),
    expected_claims: z.number(),
    claims: Quantiles,
    expected_cost_minor: z.int(),
    cost_minor: Quantiles,
    operations: z.array(ExposedOperation),
  })
  .meta({ id: 'WarrantyExposure' })
export type WarrantyExposure = z.infer<typeof WarrantyExposure>

/** Month-ends from `from` to `to` at which the next `horizon_days` are foretold; those that lie behind us only. */
export const BacktestQuery = z
  .strictObject({
    from: Day.optional().meta({ title: 'From', description: 'Left out: a year before the last month-end.' }),
    to: Day.optional().meta({ title: 'to' }),
    horizon_days: z
      .int()
      .min(1)
      .max(3650)
      .optional()
      .meta({ title: 'Foretold', unit: 'days', description: '90 when left out.', classes: 'short' }),
    as_of: AsOf.optional(),
  })
  .meta({ id: 'BacktestQuery' })
export type BacktestQuery = z.infer<typeof BacktestQuery>

/** `coverage` is the share of cut-offs whose actual claims lie from p05 to p95; null without one. */
export const Backtest = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    horizon_days: z.int(),
    cutoffs: z.array(
      z.strictObject({ as_of: Day, predicted: z.number(), p05: z.int(), p95: z.int(), actual: z.int() }),
    ),
    coverage: z.number().nullable(),
  })
  .meta({ id: 'Backtest' })
export type Backtest = z.infer<typeof Backtest>
