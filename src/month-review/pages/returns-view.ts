import type { Bearer } from '../../core/vocabulary.ts'
import { counted } from '../../core/words.ts'
import { type Cell, column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import type { ConfirmedReturn, MonthFigures, RuledOutReturn, WaitingReturn } from '../contract.ts'
import { staysToDecide } from '../rules/to-decide.ts'
import { type MoneyPen, orderLink } from './words.ts'

const BEARS: Record<Bearer, string> = { us: 'we do', supplier: 'supplier', customer: 'customer', shared: 'shared' }
const MISSING: Record<NonNullable<ConfirmedReturn['cost_missing']>, string> = {
  still_here: 'still here',
  with_another: 'see above',
  not_stated: 'not stated',
}
const WHY_SHOWN = 160

/** What came back and why; without the column of costs for whoever is not shown money. */
export function returnsTable(
  { confirmed, ruled_out, waiting, cost_minor }: MonthFigures['comebacks'],
  { money, mayDecide }: { money: MoneyPen | null; mayDecide: boolean },
): TableView {
  const costs = (cell: Cell): Cell[] => (money === null ? [] : [cell])
  const says = [
    `${confirmed.length} confirmed`,
    ...(ruled_out.length === 0 ? [] : [`${ruled_out.length} ruled out`]),
    ...(waiting.length === 0 ? [] : [toDecideWords(waiting)]),
  ]
  return table({
    columns: [
      column('Came back'),
      column('After', 'figure'),
      column('Why'),
      ...(money === null ? [] : [column('Cost', 'figure')]),
      column('Pays'),
    ],
    rows: [
      ...confirmed.map(
        (each): Row => ({
          signed: each.later_order !== null,
          cells: [what(each), days(each), why(each), ...costs(costCell(each, money)), pays(each)],
        }),
      ),
      ...ruled_out.map(
        (each): Row => ({
          signed: true,
          cells: [what(each), days(each), `ruled out: ${short(each.why ?? '')}`, ...costs('–'), pays(each)],
        }),
      ),
      ...waiting.map(
        (each): Row => ({ cells: [what(each), days(each), toDecide(each, mayDecide), ...costs('–'), '–'] }),
      ),
    ],
    foot: [
      {
        grand: true,
        cells: [says.join(', '), '', '', ...(money === null ? [] : [cost_minor === null ? '–' : money(cost_minor)])],
      },
    ],
    empty: 'Nothing came back, and nothing is suspected.',
  })
}

function toDecideWords(waiting: readonly WaitingReturn[]): string {
  const stays = staysToDecide(waiting)
  const jobs = stays === waiting.length ? '' : `, of ${counted(waiting.length, 'earlier job')}`
  return `${counted(stays, 'stay')} to decide${jobs}`
}

function what({ family, earlier_task, later_order, symptoms }: WaitingReturn | ConfirmedReturn | RuledOutReturn): Cell {
  const seen = symptoms.length === 0 ? '' : `: ${symptoms.join(', ')}`
  const stay = later_order === null ? words(`imported history${seen}`) : words(orderLink(later_order), seen)
  return { text: `${family}, ${earlier_task}`, notes: [stay] }
}

function days({ days_after }: { days_after: number }): string {
  return `${days_after} d`
}

/** The cause in a word and the evidence beneath; of a long one the beginning, since the decision itself has it all. */
function why({ category, why, is_first }: ConfirmedReturn): Cell {
  const evidence = short(why ?? '')
  const notes: Words[] = is_first ? [] : ['came back before']
  if (category === null) return { text: evidence === '' ? 'not stated' : evidence, notes }
  return { text: category.replaceAll('_', ' '), notes: [...(evidence === '' ? [] : [evidence]), ...notes] }
}

function short(text: string): string {
  const line = text.replace(/\s+/g, ' ')
  return line.length <= WHY_SHOWN ? line : `${line.slice(0, line.lastIndexOf(' ', WHY_SHOWN))} …`
}

function costCell({ cost, cost_missing }: ConfirmedReturn, money: MoneyPen | null): Cell {
  if (cost === null) return cost_missing === null ? '–' : MISSING[cost_missing]
  const hours = cost.hours_not_billed === null ? [] : [`${counted(cost.hours_not_billed, 'hour')} not billed`]
  return money === null ? '–' : { text: money(cost.total_minor), notes: hours }
}

function pays({ borne_by }: { borne_by: Bearer | null }): string {
  return borne_by === null ? '–' : BEARS[borne_by]
}

function toDecide({ earlier_job_id, later_order }: WaitingReturn, mayDecide: boolean): Words {
  if (later_order === null || !mayDecide) return 'to decide'
  return words(link(`/comebacks/${encodeURIComponent(earlier_job_id)}/${encodeURIComponent(later_order.id)}`, 'decide'))
}
