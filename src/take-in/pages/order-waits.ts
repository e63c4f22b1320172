import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { shortDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { pageForm, pagePost } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { WaitEndInput, WaitInput } from '../../work-orders/contract.ts'
import { addWait, endWait, type Wait, waitById, waitsOfOrder } from '../../work-orders/index.ts'
import { orderHead } from './order-head.ts'
import { type Pen, penOf, personOf } from './pen.ts'

/** What the vehicle waits for: written down, and ended when it is here. */
export function orderWaitsPages(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/waits',
    roles: ['desk', 'technician'],
    contract: WaitInput,
    page: (ctx, { params, form }) => ({
      template: 'take-in/small-form',
      sheet: orderHead(ctx, params.id, 'It waits for something'),
      view: {
        says: 'So that whoever answers the telephone can say what is missing, who has it and when it comes.',
        fields: Object.values(form.fields()),
        lists: [],
        action: `/work-orders/${params.id}/waits`,
        label: 'Write it down',
        back: `/work-orders/${params.id}`,
      },
    }),
    submit(ctx, input, { params }) {
      addWait(ctx, params.id, input)
      return { to: `/work-orders/${params.id}#waits`, notice: 'Written down.' }
    },
  })
  pagePost(pages, {
    url: '/waits/:id/arrival',
    roles: ['desk', 'technician'],
    contract: WaitEndInput.pick({}),
    submit(ctx, _input, { params }) {
      const { work_order_id, what } = endWait(ctx, params.id, {})
      return { to: `/work-orders/${work_order_id}#waits`, notice: `It is here: ${what}.` }
    },
  })
  pageForm(pages, {
    url: '/waits/:id/end',
    roles: ['desk', 'technician'],
    contract: WaitEndInput.required(),
    page(ctx, { params, form }) {
      const { work_order_id, what } = waitById(ctx, params.id)
      return {
        template: 'take-in/small-form',
        sheet: orderHead(ctx, work_order_id, 'It will not come'),
        view: {
          says: `${what}: what came of it. If something else is waited for, write that down anew.`,
          fields: Object.values(form.fields()),
          lists: [],
          action: `/waits/${params.id}/end`,
          label: 'Nobody waits for it',
          back: `/work-orders/${work_order_id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      const { work_order_id } = endWait(ctx, params.id, input)
      return { to: `/work-orders/${work_order_id}#waits`, notice: 'Written down.' }
    },
  })
}

/** What it waits and has waited for; null when nobody has written down anything. */
export function waitsTable(ctx: Context, orderId: string, mayEnd: boolean): TableView | null {
  const all = waitsOfOrder(ctx, orderId)
  if (all.length === 0) return null
  const pen = penOf(settingsOf(ctx))
  const people = namesOfPeople(ctx)
  return table({
    columns: [column('Waits for'), column('From'), column('Since', 'date'), column('Expected', 'date'), column('')],
    rows: all.map(wait => waitRow(wait, { pen, people, mayEnd, today: pen.dayOf(ctx.clock.now()) })),
  })
}

interface ForReader {
  pen: Pen
  people: Map<string, string>
  mayEnd: boolean
  today: string
}

function waitRow(wait: Wait, { pen, people, mayEnd, today }: ForReader): Row {
  const { what, from_whom, expected_on, ended } = wait
  const isLate = ended === undefined && expected_on !== undefined && expected_on < today
  const over = ended && `${ended.note ?? 'here'}, ${pen.moment(Date.parse(ended.at))}, ${personOf(people, ended.by)}`
  return {
    signed: ended !== undefined,
    cells: [
      what,
      from_whom ?? '',
      { text: pen.moment(Date.parse(wait.created_at)), notes: [personOf(people, wait.created_by)] },
      { text: expected_on === undefined ? 'no day' : shortDay(expected_on), notes: isLate ? ['not here'] : [] },
      over !== undefined || !mayEnd
        ? (over ?? '')
        : {
            actions: [
              { kind: 'post', label: 'It is here', action: `/waits/${wait.id}/arrival`, about: what },
              { kind: 'link', label: 'It will not come', href: `/waits/${wait.id}/end`, about: what },
            ],
          },
    ],
  }
}
