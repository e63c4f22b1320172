import { z } from 'zod'
import { DOERS } from '../../core/vocabulary.ts'
import { Day, Name } from '../../platform/contract.ts'

export const CLOCKS = ['days', 'distance'] as const

const Clock = z.enum(CLOCKS).meta({ title: 'Clock', description: 'Days, or kilometres driven.' })
const AsOf = Day.meta({ title: 'As known on', description: 'Left out: today.' })

/** The component with its failure mode, or the operation, of which the recurrence is asked. Names of the catalogue. */
export const RecurrenceQuery = z
  .strictObject({
    component: Name.optional().meta({ title: 'Component' }),
    failure_mode: z
      .string()
      .max(200)
      .optional()
      .meta({ title: 'Failure mode', description: 'Left out: any. Empty: failures without one.', keep_empty: true }),
    operation: Name.optional().meta({
      title: 'Operation',
      description: 'In place of a component: how often it is done.',
    }),
    family: Name.optional().meta({ title: 'Family' }),
    variant: Name.optional().meta({ title: 'Variant', description: 'As it is named on the vehicle.' }),
    compare_family: Name.optional().meta({ title: 'Beside it: family' }),
    compare_variant: Name.optional().meta({
      title: 'Beside it: variant',
      description: 'Without a family beside it: of the same family.',
    }),
    clock: Clock.optional(),
    as_of: AsOf.optional(),
  })
  .meta({ id: 'RecurrenceQuery' })
export type RecurrenceQuery = z.infer<typeof RecurrenceQuery>

const RecurrencePoint = z.strictObject({
  at: z.number(),
  at_risk: z.int(),
  events: z.int(),
  mcf: z.number(),
  se: z.number(),
  lower: z.number(),
  upper: z.number(),
})

const Curve = { units: z.int(), events: z.int(), points: z.array(RecurrencePoint) }

const DifferencePoint = z.strictObject({
  at: z.number(),
  at_risk: z.tuple([z.int(), z.int()]),
  difference: z.number(),
  se: z.number(),
  lower: z.number(),
  upper: z.number(),
})

/**
 * `at` in days or km. `compare` is there when a group to compare with was asked for, `difference` when the two have no vehicle
 * in common: the first group's repairs per vehicle less those of the other, `from` the age at which both are watched `until`
 * one of them no longer is; `at_risk` are the vehicles of the first and of the other.
 */
export const Recurrence = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    clock: z.enum(CLOCKS),
    ...Curve,
    compare: z.strictObject({ family: z.string().optional(), variant: z.string().optional(), ...Curve }).optional(),
    difference: z.strictObject({ from: z.number(), until: z.number(), points: z.array(DifferencePoint) }).optional(),
  })
  .meta({ id: 'Recurrence' })
export type Recurrence = z.infer<typeof Recurrence>

/** `window` is in days, or in km on the distance clock; left out: to the end of what is known. */
export const PriorWorkQuery = z
  .strictObject({
    clock: Clock.optional(),
    window: z
      .number()
      .positive()
      .max(10_000_000)
      .optional()
      .meta({ title: 'Within', description: 'Days, or km. Left out: to the end of what is known.', classes: 'short' }),
    min_events: z
      .int()
      .min(1)
      .max(1_000_000)
      .optional()
      .meta({ title: 'Failures a pair must have', description: '3 when left out.', classes: 'short' }),
    by: z.enum(DOERS).optional().meta({ title: 'Work done by', description: 'Left out: anybody.' }),
    as_of: AsOf.optional(),
  })
  .meta({ id: 'PriorWorkQuery' })
export type PriorWorkQuery = z.infer<typeof PriorWorkQuery>

const Side = z.strictObject({ vehicles: z.int(), events: z.int(), time: z.number() })
const Limit = z.number().nullable()

/**
 * `failure_mode` is null where none was recorded. `time` in years or in 10 000 km, `delay` in days or km. `vehicles_failed`
 * of the exposed vehicles had the failure while exposed. `more_time_to_tell` is the exposed time, in the same unit, that would
 * tell if the ratio stayed as it is; null where nobody can say. `findings_say` counts findings that name such work as the
 * cause of such a failure: direct evidence, no part of the numbers.
 */
export const PriorWorkPair = z
  .strictObject({
    operation: z.string(),
    component: z.string(),
    failure_mode: z.string().nullable(),
    strata: z.int(),
    exposed: Side,
    unexposed: Side,
    vehicles_failed: z.int(),
    crude_rate_ratio: Limit,
    rate_ratio: Limit,
    lower: Limit,
    upper: Limit,
    p: z.number(),
    q: z.number(),
    delay: z.strictObject({ n: z.int(), q1: Limit, median: Limit, q3: Limit }),
    by: z.strictObject({ us: z.int(), other: z.int(), owner: z.int(), unknown: z.int() }),
    mean_cost_minor: z.int().nullable(),
    share_attributed: z.strictObject({ share: z.number(), lower: z.number(), upper: z.number() }).nullable(),
    more_time_to_tell: z.number().nullable(),
    says: z.enum(['often', 'may', 'not_shown']),
    findings_say: z.int(),
  })
  .meta({ id: 'PriorWorkPair' })
export type PriorWorkPair = z.infer<typeof PriorWorkPair>

/** `vehicles` with any dated record were looked at. */
export const PriorWork = z
  .strictObject({
    as_of: Day,
    method: z.string(),
    clock: z.enum(CLOCKS),
    vehicles: z.int(),
    pairs: z.array(PriorWorkPair),
  })
  .meta({ id: 'PriorWork' })
export type PriorWork = z.infer<typeof PriorWork>
