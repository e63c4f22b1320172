import { settingsOf } from '../../accounts/index.ts'
import {
  type Component,
  componentsByIds,
  type Operation,
  operationById,
  requireComponent,
  stepsWithAllNeeded,
} from '../../catalogue/index.ts'
import { sumDecimals } from '../../core/decimal.ts'
import { costLater } from '../../core/strip-down/cost-later.ts'
import { betaOfCases, ENOUGH_CASES } from '../../core/strip-down/few-cases.ts'
import { newOrUsed } from '../../core/strip-down/new-or-used.ts'
import { PART_CONDITIONS, type PartCondition } from '../../core/vocabulary.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import type { NewOrUsed, NewOrUsedInput } from '../contract.ts'
import { type PartOutcome, partOutcomes } from '../queries/part-outcomes.ts'

const METHOD =
  'Price + chance that it fails within the term × cost of doing it all again; chance Beta(½ + failed, ½ + jobs − failed), with few jobs drawn to all of them. What safety hangs on is no question of money: the maker’s manual decides.'

/**
 * What a new part of a component, a used and a reconditioned one really cost, and at which price they tie. 422 for an unknown
 * component and for one of which the catalogue names no operation that puts it right.
 */
export function newOrUsedFor(ctx: Context, { component, prices = {} }: NewOrUsedInput): NewOrUsed {
  const [known] = componentsByIds(ctx, [requireComponent(ctx.read, component, '/component')])
  return answerFor(ctx, known!, remedyOf(ctx, known!), prices)
}

function remedyOf(ctx: Context, { name, remedy_operation_id }: Component): Operation {
  if (remedy_operation_id !== undefined) return operationById(ctx, remedy_operation_id)
  const detail = `The catalogue names no operation that puts “${name}” right.`
  throw invalid({ pointer: '/component', detail, code: 'no_remedy' })
}

function answerFor(
  ctx: Context,
  component: Component,
  operation: Operation,
  asked: NonNullable<NewOrUsedInput['prices']>,
): NewOrUsed {
  const { labour_rate_minor, our_share_bp, warranty_days } = settingsOf(ctx)
  const term_days = operation.warranty_days ?? warranty_days
  const prices: Partial<Record<PartCondition, number | undefined>> = {
    ...asked,
    new: asked.new ?? component.remedy_part_minor,
  }
  const { later_minor } = costLater({
    part_minor: prices.new ?? 0,
    own_hours: operation.hours ?? 0,
    access_hours: sumDecimals(stepsWithAllNeeded(ctx, operation.access_step_ids).map(step => step.hours)),
    ...{ rate_minor: labour_rate_minor, our_share_bp },
  })
  const known = asKnown(ctx)
  const ids = { operationId: operation.id, componentId: component.id, termDays: term_days }
  const outcomes = partOutcomes(ctx.read, ids, known)
  const all = outcomes.reduce((sum, { n, n_failed }) => ({ n: sum.n + n, n_failed: sum.n_failed + n_failed }), NONE)
  const cases = (condition: PartCondition) => casesOf(outcomes, condition, all)
  const offer = (condition: PartCondition) => ({
    price_minor: prices[condition] ?? 0,
    chance_of_failure: cases(condition).chance,
  })
  const offers = PART_CONDITIONS.map(condition => {
    const sum = newOrUsed(offer('new'), offer(condition), later_minor)
    return {
      condition,
      ...cases(condition),
      price_minor: prices[condition] ?? null,
      expected_minor: prices[condition] === undefined ? null : sum.expected_used_minor,
      tie_price_minor: prices.new === undefined ? null : sum.tie_price_minor,
      tie_discount_minor: sum.tie_discount_minor,
    }
  })
  return {
    as_of: known.asOf,
    method: METHOD,
    component: component.name,
    operation: operation.name,
    ...(component.severity !== undefined && { severity: component.severity }),
    ...{ term_days, cost_later_minor: later_minor, n_all: all.n, n_failed_all: all.n_failed, offers },
  }
}

const NONE = { n: 0, n_failed: 0 }

/** Jobs with a part of one condition, and the chance that one more fails. */
function casesOf(outcomes: readonly PartOutcome[], condition: PartCondition, all: { n: number; n_failed: number }) {
  const { n, n_failed } = outcomes.find(outcome => outcome.condition === condition) ?? NONE
  const [bad, fine] = betaOfCases({ n, n_bad: n_failed, n_all: all.n, n_bad_all: all.n_failed })
  return { n, n_failed, chance: bad / (bad + fine), borrows: n < ENOUGH_CASES }
}
