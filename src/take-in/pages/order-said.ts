import { shortDay } from '../../core/days.ts'
import { type Severity, YES_WORDS } from '../../core/vocabulary.ts'
import { adviceWords, findingWords, tellingWords } from '../../findings/index.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, type Words, words } from '../../platform/pages/words.ts'
import { DOER_WORDS, whenInWords } from '../rules/words.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import type { SentenceView } from './flag-sentences.ts'
import { type Pen, personOf } from './pen.ts'

const SEVERITY: Record<Severity, string> = { safety: 'Safety', breakdown: 'Breakdown', nuisance: 'Nuisance' }

/** What was seen during the stay, each finding followed by its advice and by who was told. */
export function foundSentences({ findings, tellings, people }: OrderSheet, pen: Pen): SentenceView[] {
  return findings.flatMap(({ finding, cause }) => {
    const note = finding.note === undefined ? '' : `. ${finding.note}`
    const who = personOf(people, finding.created_by)
    const seen = `${who}, ${shortDay(finding.found_on)}, written down ${pen.moment(Date.parse(finding.created_at))}.`
    const hurts = finding.severity === 'safety'
    const caused: Words =
      cause === null
        ? finding.caused_by === undefined
          ? seen
          : `${seen} Caused by earlier work by others, says this finding.`
        : words(
            `${seen} Caused by job ${cause.letter}, `,
            link(`/work-orders/${cause.order_id}`, cause.task),
            ', says this finding.',
          )
    const text = `${findingWords(finding)}${note}`
    const sentence = {
      word: SEVERITY[finding.severity],
      text: /[.!?]$/.test(text) ? text : `${text}.`,
      why: caused,
      hurts,
      foremost: false,
    }
    const told = tellings
      .filter(telling => telling.finding_ids.includes(finding.id))
      .map(telling => ({
        ...{
          word: 'Told',
          text: tellingWords(telling, pen.moment(Date.parse(telling.created_at))),
          why: `By ${personOf(people, telling.created_by)}.`,
        },
        ...{ hurts: false, foremost: false },
      }))
    const advice = adviceWords(finding)
    if (advice === null) return [sentence, ...told]
    return [
      sentence,
      {
        word: 'Advice',
        text: advice,
        why: `${who}.`,
        hurts: finding.advice === 'not_on_the_road',
        foremost: false,
      },
      ...told,
    ]
  })
}

/** What others did on the vehicle before, as far as anybody knows; null when nothing is known. */
export function othersWords({ others_work }: OrderSheet): string[] | null {
  if (others_work.length === 0) return null
  return others_work.map(({ operation, by, on, exactness, evidence }) => {
    const how = evidence === null ? '' : ` (${evidence.replace(/\.$/, '')})`
    return `${operation}: by ${DOER_WORDS[by]}, ${whenInWords(on, exactness)}${how}.`
  })
}

export function talksTable({ talks, people }: OrderSheet, pen: Pen): TableView {
  return table({
    columns: [column('When', 'date'), column('Who'), column('Said'), column('Promised')],
    rows: talks.map(talk => ({
      cells: [
        pen.moment(Date.parse(talk.created_at)),
        { text: `${personOf(people, talk.created_by)} and ${talk.with}`, notes: [talk.how] },
        talk.said,
        talk.promised ?? '',
      ],
    })),
    empty: 'Nobody has written down a talk yet.',
  })
}

/** Every yes; one that was taken back is struck through, and says why. `mayWithdraw`: with the way to take one back. */
export function yesTable(
  { order, authorisations, estimates, people }: OrderSheet,
  pen: Pen,
  mayWithdraw: boolean,
): TableView {
  return table({
    columns: [
      column('When', 'date'),
      column('Who said yes'),
      column('To'),
      column('How'),
      column('Taken by'),
      column('Up to', 'figure'),
    ],
    rows: authorisations.map(yes => {
      const estimate = estimates.find(each => each.id === yes.estimate_id)
      const { withdrawn } = yes
      const amount = pen.money(yes.amount_minor)
      const taken =
        withdrawn === undefined
          ? []
          : [
              `taken back by ${personOf(people, withdrawn.by)}, ${pen.moment(Date.parse(withdrawn.at))}: ${withdrawn.reason}`,
            ]
      const away = `/work-orders/${order.id}/authorisations/${yes.id}/withdrawal`
      return {
        signed: withdrawn === undefined,
        cells: [
          pen.moment(Date.parse(yes.at)),
          {
            text: yes.said_by,
            notes: taken,
            ...(mayWithdraw &&
              withdrawn === undefined && { actions: [{ kind: 'link', label: 'Take this yes back', href: away }] }),
          },
          estimate === undefined ? 'the work on this order' : `estimate, version ${estimate.version}`,
          YES_WORDS[yes.how],
          personOf(people, yes.created_by),
          {
            text: withdrawn === undefined ? amount : words({ text: amount, struck: true }),
            notes: [yes.includes_tax ? 'tax in it' : 'before tax'],
          },
        ],
      }
    }),
    empty: 'Nobody has said yes to an amount yet.',
  })
}
