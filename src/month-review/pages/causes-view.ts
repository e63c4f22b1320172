import { longDay, shortDay } from '../../core/days.ts'
import { counted, countWord } from '../../core/words.ts'
import { type Drawing, rect } from '../../platform/pages/figures/drawing.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, words } from '../../platform/pages/words.ts'
import type { MonthCause, MonthFigures } from '../contract.ts'
import type { MoneyPen } from './words.ts'

const WIDE = 150
const HIGH = 18

/** Causes by how often they were decided in twelve months, each with its bar; the most frequent first. */
export function causesTable(causes: MonthFigures['causes']): TableView | null {
  const [most] = causes
  if (most === undefined) return null
  return table({
    stacks: false,
    columns: [column('Cause'), column('', 'plot'), column('Month', 'figure'), column('12 months', 'figure')],
    rows: causes.map((cause, at) => ({
      cells: [
        causeName(cause.category),
        { plot: bar(cause, at, all(most)) },
        countWords(cause.in_month, cause.losses_in_month),
        countWords(cause.in_year, cause.losses_in_year),
      ],
    })),
  })
}

function causeName(category: string): string {
  return category === '' ? 'no cause named' : category.replaceAll('_', ' ')
}

function all({ in_year, losses_in_year }: MonthCause): number {
  return in_year + losses_in_year
}

/** "4", or "4 + 1 twice": comebacks, and work done twice before it left. */
function countWords(comebacks: number, losses: number): string {
  return losses === 0 ? String(comebacks) : `${comebacks} + ${losses} twice`
}

function bar(cause: MonthCause, at: number, most: number): Drawing {
  return {
    id: `cause-${at}`,
    ...{ width: WIDE, height: HIGH, role: 'img', classes: '' },
    title: causeName(cause.category),
    description: `${all(cause)} of at most ${most}`,
    shapes: [rect('solid', 0, 3, (WIDE * all(cause)) / most, HIGH - 6)],
  }
}

/** What was opened again at our cost before a vehicle left; null in a month without any. */
export function lossWords({ count, hours, cost_minor }: MonthFigures['losses'], money: MoneyPen | null) {
  if (count === 0) return null
  const cost = money === null ? '' : `, ${money(cost_minor)} at our cost rate`
  return words(
    `Done twice before the vehicle left: ${count === 1 ? 'once' : `${countWord(count)} times`}, ${hours} h${cost}. `,
    link('/comebacks/losses', 'Work done twice'),
  )
}

/** What was changed so that a cause does not come back, and whether it works; null when nothing was. */
export function actionsTable(actions: MonthFigures['actions']): TableView | null {
  if (actions.length === 0) return null
  return table({
    stacks: false,
    columns: [column('Since', 'date'), column('What was changed')],
    rows: actions.map(({ what, done_on, sentence }) => ({
      cells: [shortDay(done_on), { text: what, notes: [sentence] }],
    })),
  })
}

/** Beside what is foretold now: what was a month ago. */
export function monthAgoWords({ a_month_ago }: MonthFigures['warranty'], money: MoneyPen | null): string | null {
  if (a_month_ago === null) return null
  const { as_of, jobs, expected_claims, expected_cost_minor } = a_month_ago
  const cost = money === null || expected_cost_minor === null ? '' : `, ${money(expected_cost_minor)}`
  return `On ${longDay(as_of)} it was ${expected_claims.toFixed(1)} claims${cost}, on ${counted(jobs, 'job')} under warranty.`
}
