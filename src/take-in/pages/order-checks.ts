import type { Checked, ChecksOfSymptom } from '../../hand-back/index.ts'
import { checksTable } from '../../platform/pages/checks-table.ts'
import type { Drawing } from '../../platform/pages/figures/drawing.ts'
import { intervalAxis, intervalRow, linearAxis } from '../../platform/pages/figures/interval-row.ts'
import { type Cell, column, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import {
  askInWords,
  checkLines,
  checksInWords,
  looksInWords,
  type OpenLook,
  standingCautions,
  type WhileOpen,
} from '../../recurring-failures/index.ts'
import type { Pen } from './pen.ts'

export interface ChecksView {
  says: Words
  cautions: string[]
  checks: TableView
}

/** What to check first, through the strip-down that the checks are behind. */
export function checksView({ symptom, checks }: ChecksOfSymptom, family: string): ChecksView {
  const asked = new URLSearchParams({ symptom, family })
  return {
    says: words(
      `${symptom}, ${family}. ${checksInWords(checks)} `,
      link(`/recurring/first-checks?${asked}`, 'Ask otherwise'),
    ),
    cautions: standingCautions(checks),
    checks: checksTable(checkLines(checks)),
  }
}

/** What was looked at during the stay so far; null when nothing was. */
export function checkedWords(
  checked: readonly Checked[],
  people: ReadonlyMap<string, string>,
  pen: Pen,
): string | null {
  if (checked.length === 0) return null
  const said = checked.map(({ component, fine, at, created_by }) => {
    const who = created_by === null ? '' : `, ${people.get(created_by) ?? 'somebody'}`
    return `${component} ${fine ? 'fine' : 'not fine'} (${pen.moment(at)}${who})`
  })
  return `Looked at so far: ${said.join('; ')}.`
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
        exposedCell(look),
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

function exposedCell(look: OpenLook): Cell {
  const note = looksInWords(look)
  return { text: look.component, notes: note === '' ? [] : [note] }
}

function askCell(look: OpenLook): Cell {
  const { ask, note } = askInWords(look)
  return { text: ask, notes: [note] }
}

function percent(chance: number): string {
  return `${Math.round(chance * 100)} %`
}
