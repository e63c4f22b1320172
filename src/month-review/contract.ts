import { z } from 'zod'
import { ComebackRateGroup } from '../comebacks/contract.ts'
import { BEARERS, SEVERITIES, SUSPICION_REASONS } from '../core/vocabulary.ts'
import { Day, Id, Instant, MinorMoney } from '../platform/contract.ts'
import { WarrantyExposure } from '../warranty/contract.ts'
import { TaxOfRate } from '../work-orders/contract.ts'

export const MonthReviewQuery = z
  .strictObject({
    as_of: Day.optional().meta({
      title: 'As known on',
      description: 'Left out: the last day of the month, or today while it runs.',
    }),
  })
  .meta({ id: 'MonthReviewQuery' })
export type MonthReviewQuery = z.infer<typeof MonthReviewQuery>

/**
 * What a return cost us: labour not billed at the cost rate, parts not billed at what they cost, and the discount on what
 * the customer did pay, less what suppliers paid for it. An imported return states labour and parts only, so its hours are null.
 */
export const ReturnCost = z
  .strictObject({
    hours_not_billed: z.number().nullable(),
    labour_minor: MinorMoney,
    parts_minor: MinorMoney,
    goodwill_minor: MinorMoney,
    recovered_minor: MinorMoney,
    total_minor: MinorMoney,
  })
  .meta({ id: 'ReturnCost' })
export type ReturnCost = z.infer<typeof ReturnCost>

/** Why a return has no cost of its own: the vehicle is still here, it stands under another row, or nobody stated it. */
const COST_MISSING = ['still_here', 'with_another', 'not_stated'] as const

/** A stay and the earlier job that it may be due to. An imported return has no work order, and nobody decided it here. */
const returned = {
  vehicle_id: Id,
  vehicle: z.string(),
  family: z.string(),
  symptoms: z.array(z.string()),
  earlier_job_id: Id,
  earlier_task: z.string(),
  earlier_order: z.strictObject({ id: Id, number: z.string() }).nullable(),
  earlier_handed_back_on: Day,
  later_order: z.strictObject({ id: Id, number: z.string() }).nullable(),
  came_in_on: Day,
  days_after: z.int(),
}

const decided = {
  ...returned,
  decided_by: z.string().nullable(),
  why: z.string().nullable(),
  category: z.string().nullable(),
  root_cause: z.array(z.string()),
  borne_by: z.enum(BEARERS).nullable(),
}

export const RuledOutReturn = z.strictObject(decided).meta({ id: 'RuledOutReturn' })
export type RuledOutReturn = z.infer<typeof RuledOutReturn>

/** `is_first` is false for a job that had come back before: the rate counts it once. */
export const ConfirmedReturn = z
  .strictObject({
    ...decided,
    is_first: z.boolean(),
    cost: ReturnCost.nullable(),
    cost_missing: z.enum(COST_MISSING).nullable(),
  })
  .meta({ id: 'ConfirmedReturn' })
export type ConfirmedReturn = z.infer<typeof ConfirmedReturn>

export const WaitingReturn = z
  .strictObject({ ...returned, reasons: z.array(z.enum(SUSPICION_REASONS)) })
  .meta({ id: 'WaitingReturn' })
export type WaitingReturn = z.infer<typeof WaitingReturn>

/**
 * `jobs_came_back` counts jobs, each once, in the month of their first return; `before` the same in up to twelve months
 * before. `cost_minor` adds up what is known; `cost_not_known` returns are still without.
 */
export const MonthComebacks = z
  .strictObject({
    jobs_came_back: z.int(),
    before: z.strictObject({ months: z.int(), jobs_came_back: z.int() }),
    cost_minor: MinorMoney.nullable(),
    cost_not_known: z.int(),
    confirmed: z.array(ConfirmedReturn),
    ruled_out: z.array(RuledOutReturn),
    waiting: z.array(WaitingReturn),
  })
  .meta({ id: 'MonthComebacks' })
export type MonthComebacks = z.infer<typeof MonthComebacks>

/** Money of the invoices; null when the month has jobs, but none with an invoice of ours: it cannot be told. */
export const MonthCharges = z
  .strictObject({
    invoices: z.int(),
    net_minor: MinorMoney.nullable(),
    tax: z.array(TaxOfRate),
    gross_minor: MinorMoney.nullable(),
    borne_minor: MinorMoney.nullable(),
  })
  .meta({ id: 'MonthCharges' })
export type MonthCharges = z.infer<typeof MonthCharges>

const Share = z.number().nullable()

/** By the month of the hand-back. The last of `months` is the one under review; `year` is the twelve before it together. */
export const MonthRates = z
  .strictObject({
    months: z.array(ComebackRateGroup),
    year: z.strictObject({ jobs: z.int(), comebacks: z.int(), rate: Share, lower: Share, upper: Share }),
  })
  .meta({ id: 'MonthRates' })
export type MonthRates = z.infer<typeof MonthRates>

/** One cause: comebacks of the month and of the twelve months to its end, and work done twice before it left. '' where none is named. */
export const MonthCause = z
  .strictObject({
    category: z.string(),
    in_month: z.int(),
    in_year: z.int(),
    losses_in_month: z.int(),
    losses_in_year: z.int(),
  })
  .meta({ id: 'MonthCause' })
export type MonthCause = z.infer<typeof MonthCause>

/** Strip-down that was opened again at our cost in the month, before the vehicle left; cost at our cost rate. */
export const MonthLosses = z
  .strictObject({ count: z.int(), hours: z.number(), cost_minor: MinorMoney })
  .meta({ id: 'MonthLosses' })
export type MonthLosses = z.infer<typeof MonthLosses>

/** What was changed so that a cause does not come back, and whether it works, as known then. */
export const MonthAction = z
  .strictObject({ action_id: Id, what: z.string(), done_on: Day, sentence: z.string() })
  .meta({ id: 'MonthAction' })
export type MonthAction = z.infer<typeof MonthAction>

/** `foretold` is null while no job ever came back under warranty: then nothing can be foretold. */
export const MonthWarranty = z
  .strictObject({
    jobs: z.int(),
    foretold: WarrantyExposure.pick({
      expected_claims: true,
      claims: true,
      expected_cost_minor: true,
      cost_minor: true,
      operations: true,
    }).nullable(),
    a_month_ago: z
      .strictObject({
        as_of: Day,
        jobs: z.int(),
        expected_claims: z.number(),
        expected_cost_minor: MinorMoney.nullable(),
      })
      .nullable(),
  })
  .meta({ id: 'MonthWarranty' })
export type MonthWarranty = z.infer<typeof MonthWarranty>

const Joints = { joints: z.int(), vehicles: z.int(), severities: z.record(z.enum(SEVERITIES), z.int()) }

/** Joints in doubt that nobody has settled, each counted once, and again under each cause. */
export const MonthDoubts = z
  .strictObject({ ...Joints, causes: z.array(z.strictObject({ because: z.string(), ...Joints })) })
  .meta({ id: 'MonthDoubts' })
export type MonthDoubts = z.infer<typeof MonthDoubts>

/** A pair that says more than it did before the month; `said` is null where it was not tested then. */
export const NewPair = z
  .strictObject({
    operation: z.string(),
    component: z.string(),
    failure_mode: z.string().nullable(),
    says: z.enum(['often', 'may']),
    said: z.enum(['may', 'not_shown']).nullable(),
    failures_after: z.int(),
    failures_without: z.int(),
    rate_ratio: Share,
    lower: Share,
    upper: Share,
    q: z.number(),
  })
  .meta({ id: 'NewPair' })
export type NewPair = z.infer<typeof NewPair>

export const MonthPairs = z
  .strictObject({ often: z.int(), may: z.int(), news: z.array(NewPair) })
  .meta({ id: 'MonthPairs' })
export type MonthPairs = z.infer<typeof MonthPairs>

/** A wrench whose calibration ends within the next 31 days, or has ended. */
export const CalibrationDue = z
  .strictObject({ wrench_id: Id, name: z.string(), due_on: Day, overdue: z.boolean() })
  .meta({ id: 'CalibrationDue' })
export type CalibrationDue = z.infer<typeof CalibrationDue>

/** Advised work that is still open; `amount_minor` adds up what was priced. */
export const MonthLeftForLater = z
  .strictObject({
    count: z.int(),
    vehicles: z.int(),
    safety: z.int(),
    amount_minor: MinorMoney,
    not_priced: z.int(),
  })
  .meta({ id: 'MonthLeftForLater' })
export type MonthLeftForLater = z.infer<typeof MonthLeftForLater>

/**
 * `jobs` are all of ours that were handed back, `imported_jobs` those among them that an imported history tells. Book hours
 * are null when no job states any; `jobs_without_hours` are not in them.
 */
export const MonthFigures = z
  .strictObject({
    jobs: z.int(),
    imported_jobs: z.int(),
    vehicles: z.int(),
    book_hours: z.number().nullable(),
    jobs_without_hours: z.int(),
    charges: MonthCharges,
    comebacks: MonthComebacks,
    causes: z.array(MonthCause),
    losses: MonthLosses,
    actions: z.array(MonthAction),
    rates: MonthRates,
    warranty: MonthWarranty,
    in_doubt: MonthDoubts,
    pairs: MonthPairs,
    calibrations_due: z.array(CalibrationDue),
    left_for_later: MonthLeftForLater,
  })
  .meta({ id: 'MonthFigures' })
export type MonthFigures = z.infer<typeof MonthFigures>

/** `issued_at` is there once the month was issued: from then on its figures stand. */
export const MonthReview = z
  .strictObject({
    month: z.string(),
    as_known_on: Day,
    issued_at: Instant.optional(),
    method: z.string(),
    figures: MonthFigures,
  })
  .meta({ id: 'MonthReview' })
export type MonthReview = z.infer<typeof MonthReview>
