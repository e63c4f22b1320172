import { settingsOf } from '../../accounts/index.ts'
import { sumMinor } from '../../core/money.ts'
import { type Labour, labour } from '../../core/strip-down/labour.ts'
import type { Context } from '../../platform/context.ts'
import { findAuthorisations, findNewestEstimate } from '../queries/agreement.ts'
import type { HandBackRow } from '../queries/orders.ts'
import {
  agreedOf,
  type ChargedLine,
  type ChargeFacts,
  chargesOf,
  type OrderCharges,
  openedAgain,
} from '../rules/charges.ts'
import type { OrderPlan } from './order-plan.ts'
import { planOfOrder } from './plan.ts'

/** What an order comes to, in minor units. */
export interface ChargesOfOrder extends OrderCharges {
  /** Tax included; the same as `gross_minor` until we bear some of it at hand-back. */
  total_minor: number
  /** Up to which total, tax included, the customer has said yes; 0 while nobody has. */
  agreed_minor: number
  has_yes: boolean
}

/** What is charged for an order as it stands; once handed back, what its invoice says. 404 for an unknown order. */
export function chargesOfOrder(ctx: Context, orderId: string): ChargesOfOrder {
  return chargesOfPlan(ctx, planOfOrder(ctx, orderId))
}

/** The same for a plan that was read already. */
export function chargesOfPlan(ctx: Context, plan: OrderPlan): ChargesOfOrder {
  const settings = settingsOf(ctx)
  const standing = findAuthorisations(ctx.read, plan.order.id).filter(yes => yes.withdrawal === null)
  const agreed = agreedOf(standing, settings.tax_bp)
  const charged = plan.hand_back === null ? chargesOf(chargeFacts(ctx, plan), settings) : asInvoiced(plan.hand_back)
  return {
    ...charged,
    total_minor: sumMinor([charged.gross_minor, plan.hand_back?.borne_minor ?? 0]),
    agreed_minor: agreed ?? 0,
    has_yes: agreed !== null,
  }
}

/** What the book says for everything on the order, whatever its estimate: what a new estimate begins with. */
export function bookLinesOfOrder(ctx: Context, orderId: string): ChargedLine[] {
  const facts = chargeFacts(ctx, planOfOrder(ctx, orderId))
  return chargesOf({ ...facts, estimate: null }, settingsOf(ctx)).lines
}

/** Hours of the jobs that stand, with shared strip-down once and what was opened again. */
export function labourOfPlan(plan: OrderPlan): Labour {
  const facts = { jobs: chargedJobs(plan), steps: plan.steps, openings: plan.openings }
  return labour(
    facts.jobs.filter(job => !job.voided).map(({ id, hours, step_ids }) => ({ id, hours, access_step_ids: step_ids })),
    // each plan has pinned all that its steps need, so nothing is looked up behind them again
    plan.steps.map(step => ({ id: step.access_step_id, hours: step.hours, needs: [] })),
    openedAgain(facts).map(opening => opening.access_step_id),
  )
}

function chargedJobs(plan: OrderPlan): ChargeFacts['jobs'] {
  return plan.jobs.map(({ id, letter, task, hours, voiding, steps }) => ({
    ...{ id, letter, task, hours, voided: voiding !== null },
    step_ids: steps.map(step => step.access_step_id),
  }))
}

function chargeFacts(ctx: Context, plan: OrderPlan): ChargeFacts {
  return {
    jobs: chargedJobs(plan),
    steps: plan.steps,
    openings: plan.openings,
    part_lines: plan.jobs.flatMap(job =>
      [...job.part_lines, ...job.part_lines_off].map(({ id, job_id, part_id, quantity, price_minor, ...line }) => ({
        ...{ id, job_id, part_id, text: `${line.part_number} ${line.part_name}`, quantity, price_minor },
        removal_id: line.removal?.id ?? null,
      })),
    ),
    estimate: findNewestEstimate(ctx.read, plan.order.id) ?? null,
  }
}

function asInvoiced({ lines, discount_minor, net_minor, tax, gross_minor }: HandBackRow): OrderCharges {
  return { lines, discount_minor, net_minor, tax, gross_minor }
}
