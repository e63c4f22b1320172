import { settingsOf } from '../../../accounts/index.ts'
import type { Context } from '../../../platform/context.ts'
import type { Action } from '../../../platform/pages/actions.ts'
import { checksTable } from '../../../platform/pages/checks-table.ts'
import { penOf } from '../../../platform/pages/pen.ts'
import { type Cell, column, type TableView, table } from '../../../platform/pages/table.ts'
import {
  askInWords,
  checkLines,
  checksInWords,
  looksInWords,
  standingCautions,
  type WhileOpen,
} from '../../../recurring-failures/index.ts'
import type { OrderPlan } from '../../../work-orders/index.ts'
import { stampOf } from '../../service/bench/stamp.ts'
import { type Checked, whatToCheck } from '../../service/what-to-check.ts'
import { cardHref } from './links.ts'

/** What the job card says of where to look: first checks until the cause is found, and what lies open; null where nothing. */
export interface CheckView {
  checked: string | null
  first_checks: { says: string; cautions: string[]; table: TableView }[] | null
  while_open: TableView | null
}

/** `isOpen`: something may still be written on the card. */
export function checkView(ctx: Context, plan: OrderPlan, jobId: string, isOpen: boolean): CheckView {
  const { checks, while_open, checked } = whatToCheck(ctx, plan)
  if (!isOpen || (checks.length === 0 && while_open === null))
    return { checked: null, first_checks: null, while_open: null }
  const first_checks = checks.map(({ symptom, checks: order }) => ({
    says: `${symptom}. ${checksInWords(order)}`,
    cautions: standingCautions(order),
    table: checksTable(checkLines(order), component => checkActions(jobId, component, symptom)),
  }))
  return {
    checked: checkedWords(ctx, checked),
    first_checks: first_checks.length === 0 ? null : first_checks,
    while_open: while_open === null ? null : whileOpenTable(ctx, while_open, jobId, checked),
  }
}

function checkedWords(ctx: Context, checked: readonly Checked[]): string | null {
  if (checked.length === 0) return null
  const stamp = stampOf(ctx)
  const said = checked.map(each => `${each.component} ${each.fine ? 'fine' : 'not fine'} (${stamp(each)})`)
  return `Looked at so far: ${said.join('; ')}.`
}

/** The usual thing in one tap. */
function checkActions(jobId: string, component: string, symptom?: string): Action[] {
  const asked = { component, ...(symptom !== undefined && { symptom }) }
  const hidden = Object.entries(asked).map(([name, value]) => ({ name, value }))
  return [
    { kind: 'post', label: 'Fine', about: component, action: `${cardHref(jobId)}/checks`, hidden },
    {
      ...{ kind: 'button', label: 'Say what I see', about: component },
      href: `${cardHref(jobId)}/finding?${new URLSearchParams(asked)}`,
    },
  ]
}

function whileOpenTable(ctx: Context, { looks }: WhileOpen, jobId: string, checked: readonly Checked[]): TableView {
  const pen = penOf(settingsOf(ctx))
  const done = new Map(checked.map(each => [each.component, each]))
  return table({
    columns: [
      column('Exposed'),
      column('Bad of looked', 'figure'),
      column('Chance', 'figure'),
      column('If left: later', 'figure'),
      column('Ask'),
      column(''),
    ],
    rows: looks.map(look => {
      const note = looksInWords(look)
      const { ask, note: why } = askInWords(look)
      const known = done.get(look.component)
      const last: Cell =
        known === undefined
          ? { actions: checkActions(jobId, look.component) }
          : `looked at: ${known.fine ? 'fine' : 'not fine'}`
      return {
        cells: [
          { text: look.component, notes: note === '' ? [] : [note] },
          `${look.n_bad} of ${look.n_looked}`,
          {
            text: percent(look.chance),
            notes: [`${percent(look.chance_lower)} to ${percent(look.chance_upper)}`],
          },
          pen.money(look.cost_later_minor),
          { text: ask, notes: [why] },
          last,
        ],
      }
    }),
  })
}

function percent(chance: number): string {
  return `${Math.round(chance * 100)} %`
}
