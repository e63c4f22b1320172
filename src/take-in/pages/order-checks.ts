import type { Drawing } from '../../platform/pages/figures/drawing.ts'
import { intervalAxis, intervalRow, linearAxis } from '../../platform/pages/figures/interval-row.ts'
import { type Cell, column, type TableView, table } from '../../platform/pages/table.ts'
import { em, words } from '../../platform/pages/words.ts'
import type { OpenLook, WhileOpen } from '../../recurring-failures/index.ts'
import type { ChecksOfSymptom } from '../service/what-to-check.ts'
import type { Pen } from './pen.ts'

export interface ChecksView {
  says: string
  checks: TableView
}

/** What to check first, through the strip-down that the checks are behind. */
export function checksView({ symptom, checks }: ChecksOfSymptom, family: string, pen: Pen): ChecksView {
  const { expected_minutes, expected_minutes_most_likely_first, is_best, sequence } = checks
  let place = 0
  let before = 0
  const rows = sequence.map(item => {
    const minutes = item.ends_at - before
    before = item.ends_at
    const clock = clockWords(item.ends_at)
    if (item.kind === 'step')
      return ['', words(em(`${item.name}: what follows may be behind it`)), '', '', pen.number(minutes), clock]
    place += 1
    const check = checks.checks.find(each => each.id === item.id)
    const from = check === undefined || check.n === null ? '' : `${check.n} of ${check.of ?? 0}`
    const name = { text: item.name, notes: check?.caution === undefined ? [] : [`Caution: ${check.caution}`] }
    return [String(place), name, percent(check?.chance ?? 0), from, pen.number(minutes), clock]
  })
  const best = is_best ? '' : ' The order is near the best one.'
  const none = checks.checks.every(check => (check.of ?? 0) === 0) ? ' No case here yet: every cause counts alike.' : ''
  return {
    says: `${symptom}, ${family}. In this order the cause is expected after ${Math.round(expected_minutes)} minutes; starting with the likeliest one, ${Math.round(expected_minutes_most_likely_first)}.${best}${none}`,
    checks: table({
      columns: [
        column('Do', 'figure'),
        column('Check'),
        column('Chance', 'figure'),
        column('From', 'figure'),
        column('Minutes', 'figure'),
        column('Clock at', 'figure'),
      ],
      rows: rows.map((cells: Cell[]) => ({ cells })),
    }),
  }
}

function percent(chance: number): string {
  return `${Math.round(chance * 100)} %`
}

function clockWords(minutes: number): string {
  const whole = Math.round(minutes)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}

/** What is worth a look while it is open: chance against break-even, and what leaving it costs. */
export function whileOpenTable({ looks }: WhileOpen, pen: Pen): TableView {
  const highest = Math.max(...looks.flatMap(look => [look.chance_upper, look.chance]))
  const to = Math.min(100, Math.max(20, Math.ceil((highest * 100) / 20) * 20))
  const axis = linearAxis(0, to, to / 20, 180)
  const plot = (look: OpenLook, place: number): Drawing =>
    intervalRow(axis, {
      id: `open-${place}`,
      title: `${look.component}: chance it is bad`,
      description: `${percent(look.chance)}, interval ${percent(look.chance_lower)} to ${percent(look.chance_upper)}${look.break_even_chance === null ? '' : `; worth a look above ${percent(look.break_even_chance)}`}`,
      estimate: look.chance * 100,
      lower: look.chance_lower * 100,
      upper: look.chance_upper * 100,
      ...(look.break_even_chance !== null && { break_even: look.break_even_chance * 100 }),
    })
  return table({
    columns: [
      column('Exposed'),
      column('Bad of looked', 'figure'),
      column('Chance', 'figure'),
      column(`0 to ${to} %, open mark: break-even`, 'plot'),
      column('Break-even', 'figure'),
      column('If left: later', 'figure'),
      column('Ask'),
    ],
    rows: looks.map((look, place) => ({
      cells: [
        look.component,
        `${look.n_bad} of ${look.n_looked}`,
        { text: percent(look.chance), notes: [`${percent(look.chance_lower)} to ${percent(look.chance_upper)}`] },
        { plot: plot(look, place) },
        look.break_even_chance === null ? '–' : percent(look.break_even_chance),
        pen.money(look.cost_later_minor),
        askCell(look),
      ],
    })),
    foot: [{ axis: true, cells: ['', '', '', { plot: intervalAxis(axis, 'open-axis', `Per cent, 0 to ${to}`) }] }],
  })
}

/** Money never argues against safety. */
function askCell({ severity, asked_for, chance_worth_it }: OpenLook): Cell {
  if (severity === 'safety') return { text: 'Always\u00a0look', notes: ['safety'] }
  return { text: asked_for ? 'Look' : 'Leave it', notes: [`${percent(chance_worth_it)} sure`] }
}
