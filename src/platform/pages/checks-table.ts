import type { Action } from './actions.ts'
import { type Cell, column, type TableView, table } from './table.ts'
import { em, words } from './words.ts'

/** One line of an order of checks, in words. */
export interface CheckLine {
  kind: 'check' | 'step'
  place: string
  name: string
  chance: string
  from: string
  minutes: number
  clock: string
  notes: string[]
}

/** What to check first, with the strip-down between the checks; `actions` is what can be done at a check, by its name. */
export function checksTable(lines: readonly CheckLine[], actions?: (name: string) => Action[]): TableView {
  const rows = lines.map(({ kind, place, name, chance, from, minutes, clock, notes }): Cell[] => [
    { text: kind === 'step' ? words(em(name)) : `${place} ${name}`, notes },
    chance,
    from,
    String(Math.round(minutes)),
    clock,
    ...(actions === undefined ? [] : [{ actions: kind === 'check' ? actions(name) : [] }]),
  ])
  return table({
    columns: [
      column('Check, in this order'),
      column('Chance', 'figure'),
      column('From', 'figure'),
      column('Minutes', 'figure'),
      column('Clock at', 'figure'),
      ...(actions === undefined ? [] : [column('')]),
    ],
    rows: rows.map(cells => ({ cells })),
  })
}
