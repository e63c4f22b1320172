import { localDateOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import type { Severity } from '../../core/vocabulary.ts'
import { adviceWords, findingWords, tellingWords } from '../../findings/index.ts'
import type { Pen } from '../../platform/pages/pen.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { link, plate, type Words, words } from '../../platform/pages/words.ts'
import type { HandBackSheet } from '../service/sheet.ts'

export function subjectOf({ vehicle, customer }: HandBackSheet): Words {
  const what = [vehicle.family, vehicle.variant].filter(Boolean).join(', ')
  return words(...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']), `${what} · ${customer.name}`)
}

/** The totals that stand under the lines: what the customer is asked for. */
export interface TotalsToShow {
  lines: readonly { text: string; quantity: number; unit_minor: number; tax_bp: number; line_minor: number }[]
  discount_minor: number
  net_minor: number
  tax: readonly { tax_bp: number; net_minor: number; tax_minor: number }[]
  gross_minor: number
  borne?: { amount_minor: number; reason: string }
}

/** Lines, discount, what we bear, net, tax per rate and what is to pay. */
export function chargesTable(totals: TotalsToShow, pen: Pen): TableView {
  const sum = (text: string, amount: string): Row => ({ cells: [text, '', '', '', amount] })
  return table({
    columns: [
      column('For'),
      column('Quantity', 'figure'),
      column('Each', 'figure'),
      column('Tax', 'figure'),
      column('Amount', 'figure'),
    ],
    rows: totals.lines.map(line => ({
      cells: [
        line.text,
        pen.number(line.quantity),
        pen.money(line.unit_minor),
        pen.percent(line.tax_bp),
        pen.money(line.line_minor),
      ],
    })),
    foot: [
      ...(totals.discount_minor > 0 ? [sum('Discount, before tax', pen.money(-totals.discount_minor))] : []),
      ...(totals.borne
        ? [sum(`Borne by us, tax included: ${totals.borne.reason}`, pen.money(-totals.borne.amount_minor))]
        : []),
      sum(totals.borne ? 'Net of what is left' : 'Net', pen.money(totals.net_minor)),
      ...totals.tax.map(rate =>
        sum(`Tax ${pen.percent(rate.tax_bp)} on ${pen.money(rate.net_minor)}`, pen.money(rate.tax_minor)),
      ),
      { ...sum('To pay', pen.money(totals.gross_minor)), grand: true },
    ],
    empty: 'Nothing is charged.',
  })
}

const SEVERITY_WORDS: Record<Severity, string> = { safety: 'Safety', breakdown: 'Breakdown', nuisance: 'Nuisance' }

/** What was seen during the stay, each finding followed by its advice; then what was left for later. */
export function seenAndAdvised(
  { findings, tellings, left_for_later, vehicle }: HandBackSheet,
  pen: Pen,
  timeZone: string,
) {
  const seen = findings.flatMap(finding => {
    const note = finding.note === undefined ? '' : `. ${finding.note}`
    const advice = adviceWords(finding)
    return [
      {
        word: SEVERITY_WORDS[finding.severity],
        text: `${findingWords(finding)}${note}`,
        why: `Seen on ${longDay(finding.found_on)}.`,
        hurts: finding.severity === 'safety',
      },
      ...(advice === null
        ? []
        : [
            {
              word: 'Advice',
              text: advice,
              hurts: finding.advice === 'not_on_the_road',
            },
          ]),
      ...tellings
        .filter(telling => telling.finding_ids.includes(finding.id))
        .map(telling => ({
          word: 'Told',
          text: tellingWords(telling, longDay(localDateOf(Date.parse(telling.created_at), timeZone))),
        })),
    ]
  })
  const later = left_for_later.map(left => ({
    word: 'For later',
    text: left.text,
    why: words(
      left.amount_minor === undefined ? 'Not priced. ' : `Priced at ${pen.money(left.amount_minor)}. `,
      link(`/vehicles/${vehicle.id}`, 'The vehicle'),
    ),
  }))
  return [...seen, ...later]
}
