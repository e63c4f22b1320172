import { settingsOf } from '../../accounts/index.ts'
import { allComponents } from '../../catalogue/index.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { type NewOrUsed, newOrUsedFor } from '../../recurring-failures/index.ts'
import type { PlannedJob } from '../../work-orders/index.ts'
import { type Pen, penOf } from './pen.ts'

interface PartAnswer {
  word: string
  text: string
  why: string
  hurts: boolean
}

/** New or used, for the part of each component that one of these jobs puts right: what each really costs, and where they tie. */
export function partAnswers(ctx: Context, jobs: readonly PlannedJob[]): PartAnswer[] {
  const operations = new Set(jobs.flatMap(job => job.operation_id ?? []))
  const pen = penOf(settingsOf(ctx))
  return allComponents(ctx)
    .filter(({ remedy_operation_id }) => remedy_operation_id !== undefined && operations.has(remedy_operation_id))
    .map(({ name }) => answerWords(newOrUsedFor(ctx, { component: name }), pen))
}

type Offer = NewOrUsed['offers'][number]

function answerWords(answer: NewOrUsed, pen: Pen): PartAnswer {
  const { component, severity, n_all, n_failed_all } = answer
  const why = `Price + chance × ${pen.money(answer.cost_later_minor)} for doing it all again. Where there are fewer than ten the chance is drawn to that of all such jobs: ${n_failed_all} of ${n_all}.`
  if (severity === 'safety')
    return {
      ...{ word: 'Caution', hurts: true, why: '' },
      text: `${component}: safety hangs on it. Whether a used one may be fitted the maker’s manual says, not the price.`,
    }
  const text =
    n_all === 0
      ? `${component}: cannot tell. No such job has been out for its whole term of ${counted(answer.term_days, 'day')} yet.`
      : `${component}: ${listOfFailures(answer)} ${tieWords(answer, pen)}`
  return { word: 'New or used', text, why, hurts: false }
}

function listOfFailures({ offers, term_days }: NewOrUsed): string {
  const [fresh, ...others] = offers
  const seen = others.filter(offer => offer.n > 0)
  const parts = [fresh!, ...seen].map(({ condition, n, n_failed }) => `${condition} ${n_failed} of ${n}`)
  return `failed again within ${counted(term_days, 'day')}: ${parts.join(', ')}.`
}

/** From which price on the cheaper part is the dearer one. */
function tieWords({ offers }: NewOrUsed, pen: Pen): string {
  const fresh = offers[0]!
  const used = offers.find(offer => offer.condition === 'used')!
  if (used.n === 0) return 'Whether a used one lasts as long nobody can tell: none has been out for its whole term.'
  if (used.tie_discount_minor <= 0)
    return 'A used one has not failed more often: it pays at any price below a new one’s.'
  const must = `A used one must be ${pen.money(used.tie_discount_minor)} cheaper than a new one to make up for failing more often`
  return `${must}${priceWords(fresh, used, pen)}.`
}

function priceWords(fresh: Offer, used: Offer, pen: Pen): string {
  if (fresh.price_minor === null || used.tie_price_minor === null) return ''
  return used.tie_price_minor <= 0
    ? `: beside a new one at ${pen.money(fresh.price_minor)} it never pays`
    : `: beside a new one at ${pen.money(fresh.price_minor)} it pays below ${pen.money(used.tie_price_minor)}`
}
