import { type Settings, settingsOf } from '../../accounts/index.ts'
import { longDay } from '../../core/days.ts'
import { distanceInWords } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { penOf } from '../../platform/pages/pen.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { link, ref, words } from '../../platform/pages/words.ts'
import type { HandBack } from '../contract.ts'
import { type HandBackSheet, handBackSheet } from '../service/sheet.ts'
import { chargesTable, seenAndAdvised, subjectOf } from './sheet-views.ts'

/** The sheet that goes with the vehicle: invoice, warranty, what was seen and advised. Before hand-back it is not there yet. */
export function invoicePages(pages: Pages): void {
  pageRead(pages, {
    url: '/work-orders/:id/invoice',
    handle(ctx, { params }) {
      const sheet = handBackSheet(ctx, params.id)
      if (sheet.hand_back === null) return { to: `/work-orders/${params.id}/hand-back` }
      return invoicePage(sheet, sheet.hand_back, settingsOf(ctx))
    },
  })
}

function invoicePage(sheet: HandBackSheet, handBack: HandBack, settings: Settings): PageAnswer {
  const pen = penOf(settings)
  const { order, customer, vehicle, chain } = sheet
  const { invoice, borne_minor = 0, borne_reason = '' } = handBack
  const odometer =
    handBack.odometer_km === undefined
      ? []
      : [{ label: 'Odometer', value: distanceInWords(handBack.odometer_km, vehicle.odometer_unit) }]
  const numbers = [
    { label: 'VIN', value: vehicle.vin },
    { label: 'Frame number', value: vehicle.frame_number },
  ].flatMap(({ label, value }) => (value === undefined ? [] : [{ label, value }]))
  return {
    template: 'hand-back/invoice',
    sheet: {
      title: `Invoice ${invoice.number}`,
      sheet_title: 'Invoice',
      sheet_number: words('Invoice ', ref(invoice.number)),
      subject: subjectOf(sheet),
      dates: `Handed back ${longDay(handBack.on)}`,
      nav: 'work-orders',
    },
    view: {
      facts: [
        { label: 'To pay', value: pen.money(invoice.gross_minor), chief: true },
        { label: 'For', value: customer.name, ...withNote([customer.address, customer.phone]) },
        { label: 'Work order', value: words('Order ', link(`/work-orders/${order.id}`, ref(order.number))) },
        ...odometer,
        ...numbers,
      ],
      complaint: order.complaint,
      charges: chargesTable(
        { ...invoice, ...(borne_minor > 0 && { borne: { amount_minor: borne_minor, reason: borne_reason } }) },
        pen,
      ),
      pay: settings.invoice_note?.split(/\r?\n/).filter(line => line.trim() !== '') ?? [],
      warranty: warrantyTable(sheet, handBack),
      seen: seenAndAdvised(sheet, pen, settings.time_zone),
      chain: `Record ${chain.seq}, ${chain.hash}`,
    },
  }
}

function withNote(lines: (string | undefined)[]): { note?: string } {
  const known = lines.filter(line => line !== undefined)
  return known.length === 0 ? {} : { note: known.join(' · ') }
}

function warrantyTable({ standing, vehicle }: HandBackSheet, { warranties }: HandBack): TableView {
  return table({
    columns: [column('Job'), column('Until', 'date'), column('or until', 'figure')],
    rows: standing.plan.jobs.flatMap(job => {
      const term = warranties.find(each => each.job_id === job.id)
      if (term === undefined) return []
      const km = term.until_km === undefined ? 'no limit' : distanceInWords(term.until_km, vehicle.odometer_unit)
      return [{ cells: [`${job.letter} ${job.task}`, longDay(term.until_on), km] }]
    }),
    empty: 'No job of this order carries a warranty.',
  })
}
