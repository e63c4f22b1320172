import { settingsOf } from '../../accounts/index.ts'
import { longDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { type Cell, column, type Row, table } from '../../platform/pages/table.ts'
import { link, ref, words } from '../../platform/pages/words.ts'
import { notFound } from '../../platform/problems.ts'
import { customerById, vehicleById } from '../../vehicles/index.ts'
import {
  bookLinesOfOrder,
  type Estimate,
  type EstimateLine,
  estimatesOfOrder,
  makeEstimate,
  workOrderById,
} from '../../work-orders/index.ts'
import { EstimateForm } from '../contract.ts'
import { estimateChanges, type VersionLine } from '../rules/estimate-changes.ts'
import { type Pen, penOf, subjectWords } from './pen.ts'

/** Blank lines after those that are there. */
const MORE_LINES = 3

const KINDS = [
  { value: 'labour', label: 'Labour' },
  { value: 'part', label: 'Part' },
  { value: 'other', label: 'Other' },
]

/** The estimate: made from the jobs, its lines put as the customer is to be asked, and each version for paper. */
export function estimatePages(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/estimate',
    roles: ['desk'],
    contract: EstimateForm,
    initial: (ctx, { params }) => ({ values: { lines: bookLinesOfOrder(ctx, params.id).map(bareLine) } }),
    page: (ctx, { params, form }) => editPage(ctx, params.id, form),
    submit(ctx, input, { params }) {
      const { version, gross_minor } = makeEstimate(ctx, params.id, withUsual(ctx, input))
      const amount = penOf(settingsOf(ctx)).money(gross_minor)
      return { to: `/work-orders/${params.id}#yes`, notice: `Estimate, version ${version}: ${amount} with tax.` }
    },
  })
  pageRead(pages, {
    url: '/work-orders/:id/estimates/:version',
    handle(ctx, { params }) {
      const estimate = estimatesOfOrder(ctx, params.id).find(each => String(each.version) === params.version)
      if (estimate === undefined) throw notFound('version of the estimate', params.version)
      return paperPage(ctx, estimate)
    },
  })
}

/** What the desk left out: labour, at the usual tax. */
function withUsual(ctx: Context, { lines, ...rest }: EstimateForm) {
  const { tax_bp } = settingsOf(ctx)
  return {
    ...rest,
    lines: lines.map(line => ({ ...line, kind: line.kind ?? ('labour' as const), tax_bp: line.tax_bp ?? tax_bp })),
  }
}

/** What a line is, without who worked it out. */
function bareLine({ kind, job_id, part_id, text, quantity, unit_minor, tax_bp }: EstimateLine): EstimateLine {
  return {
    ...{ kind, text, quantity, unit_minor, tax_bp },
    ...(job_id !== undefined && { job_id }),
    ...(part_id !== undefined && { part_id }),
  }
}

function sheetOf(ctx: Context, orderId: string, title: string) {
  const order = workOrderById(ctx, orderId)
  return {
    title: `${title} for ${order.number}`,
    sheet_title: title,
    sheet_number: words('for order ', link(`/work-orders/${order.id}`, ref(order.number))),
    subject: subjectWords(vehicleById(ctx, order.vehicle_id), customerById(ctx, order.customer_id)),
    nav: 'work-orders' as const,
  }
}

function editPage(ctx: Context, orderId: string, form: FormState): PageAnswer {
  const usual = penOf(settingsOf(ctx)).percent(settingsOf(ctx).tax_bp)
  const lines = form.rows('lines', 0) + (form.parts.error_summary === null ? MORE_LINES : 1)
  return {
    template: 'take-in/estimate',
    sheet: sheetOf(ctx, orderId, 'Estimate'),
    view: {
      order_id: orderId,
      lines: Array.from({ length: lines }, (_, place) => {
        const fields = form.fields({ at: ['lines', place], choices: { kind: KINDS } })
        return { place: place + 1, ...fields, unit_minor: { ...fields.unit_minor, label: 'Each' } }
      }),
      discount: form.fields().discount_minor,
      usual_tax: usual,
    },
  }
}

function paperPage(ctx: Context, estimate: Estimate): PageAnswer {
  const pen = penOf(settingsOf(ctx))
  const order = workOrderById(ctx, estimate.work_order_id)
  return {
    template: 'take-in/estimate-paper',
    sheet: {
      ...sheetOf(ctx, order.id, 'Estimate'),
      dates: `version ${estimate.version}, ${longDay(pen.dayOf(Date.parse(estimate.created_at)))}`,
    },
    view: {
      facts: [
        { label: 'With tax', value: pen.money(estimate.gross_minor), chief: true },
        { label: 'For', value: customerById(ctx, order.customer_id).name },
        { label: 'Work order', value: words(link(`/work-orders/${order.id}`, ref(order.number))) },
        ...(order.promised_on === undefined ? [] : [{ label: 'Wanted back', value: longDay(order.promised_on) }]),
      ],
      complaint: order.complaint,
      lines: linesTable(estimate, pen),
      changes: changesTable(ctx, estimate, pen),
    },
  }
}

const CHANGED = { new: 'new', gone: 'left out', changed: 'changed' } as const

/** What this version changed against the one before; null for the first, and where nothing did. */
function changesTable(ctx: Context, { work_order_id, version, lines, gross_minor }: Estimate, pen: Pen) {
  const before = estimatesOfOrder(ctx, work_order_id).find(each => each.version === version - 1)
  if (before === undefined) return null
  const changes = estimateChanges(before.lines, lines)
  if (changes.length === 0 && before.gross_minor === gross_minor) return null
  const said = (line: VersionLine | null) =>
    line === null ? '–' : `${pen.number(line.quantity)} × ${pen.money(line.unit_minor)}`
  return table({
    columns: [column('For'), column('Against the version before'), column('Was', 'figure'), column('Is', 'figure')],
    rows: changes.map(({ text, what, before: was, after }) => ({
      cells: [text, CHANGED[what], said(was), said(after)],
    })),
    foot: [{ grand: true, cells: ['Together', '', pen.money(before.gross_minor), pen.money(gross_minor)] }],
  })
}

function linesTable(estimate: Estimate, pen: Pen) {
  const sum = (text: string, amount: string): Row => ({ cells: [text, '', '', '', amount] })
  const { lines, discount_minor = 0, net_minor, tax, gross_minor } = estimate
  return table({
    columns: [
      column('For'),
      column('Quantity', 'figure'),
      column('Each', 'figure'),
      column('Tax', 'figure'),
      column('Amount', 'figure'),
    ],
    rows: lines.map(line => {
      const cells: Cell[] = [
        line.text,
        pen.number(line.quantity),
        pen.money(line.unit_minor),
        pen.percent(line.tax_bp),
        pen.money(line.line_minor),
      ]
      return { cells }
    }),
    foot: [
      ...(discount_minor > 0 ? [sum('Discount, before tax', pen.money(-discount_minor))] : []),
      sum('Net', pen.money(net_minor)),
      ...tax.map(rate =>
        sum(`Tax ${pen.percent(rate.tax_bp)} on ${pen.money(rate.net_minor)}`, pen.money(rate.tax_minor)),
      ),
      { ...sum('Together', pen.money(gross_minor)), grand: true },
    ],
  })
}
