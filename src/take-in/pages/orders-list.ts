import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { shortDay } from '../../core/days.ts'
import { WORK_ORDER_STATES } from '../../core/vocabulary.ts'
import { capital } from '../../core/words.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { type Cell, column, table } from '../../platform/pages/table.ts'
import { link, plate, ref, words } from '../../platform/pages/words.ts'
import { customerById, vehicleById } from '../../vehicles/index.ts'
import { STATE_WORDS } from '../rules/words.ts'
import { listWorkOrders } from '../service/work-orders.ts'
import { familyWords, penOf, titleOf } from './pen.ts'

const AT_ONCE = 50

const Asked = z.strictObject({
  state: z.enum(WORK_ORDER_STATES).optional().catch(undefined),
  after: z.string().max(100).optional(),
})

/** Work orders by their state, newest first; what is in the house stands on its own page by what it waits for. */
export function ordersListPage(pages: Pages): void {
  pageRead(pages, {
    url: '/work-orders',
    query: Asked,
    handle(ctx, { query: { state, after } }) {
      const pen = penOf(settingsOf(ctx))
      const orders = listWorkOrders(ctx, { state, after: after ?? null, limit: AT_ONCE + 1 })
      const shown = orders.slice(0, AT_ONCE)
      const address = (next: Record<string, string>) =>
        `/work-orders?${new URLSearchParams({ ...(state !== undefined && { state }), ...next })}`
      const last = shown.at(-1)
      return {
        template: 'take-in/orders',
        sheet: {
          title: 'Work orders',
          nav: 'work-orders',
          sheet_number: state === undefined ? 'all' : STATE_WORDS[state],
        },
        view: {
          states: [
            { label: 'All', href: '/work-orders', here: state === undefined },
            ...WORK_ORDER_STATES.map(each => ({
              label: capital(STATE_WORDS[each]),
              href: `/work-orders?state=${each}`,
              here: state === each,
            })),
          ],
          orders: table({
            columns: [
              column('Number'),
              column('Vehicle'),
              column('Customer'),
              column('State'),
              column('Taken in', 'date'),
              column('Promised', 'date'),
              column('Total', 'figure'),
            ],
            rows: shown.map(order => {
              const vehicle = vehicleById(ctx, order.vehicle_id)
              const title = vehicle.plate === undefined ? titleOf(vehicle) : plate(vehicle.plate)
              const cells: Cell[] = [
                words(link(`/work-orders/${order.id}`, ref(order.number))),
                { text: words(link(`/vehicles/${vehicle.id}`, title)), notes: [familyWords(vehicle)] },
                customerById(ctx, order.customer_id).name,
                STATE_WORDS[order.state],
                shortDay(pen.dayOf(Date.parse(order.created_at))),
                order.promised_on === undefined ? '' : shortDay(order.promised_on),
                pen.money(order.total_minor),
              ]
              return { cells }
            }),
            empty:
              state === undefined ? 'No work order is written down yet.' : `No work order is ${STATE_WORDS[state]}.`,
          }),
          more:
            orders.length <= AT_ONCE && after === undefined
              ? null
              : {
                  says: `${shown.length} work orders, newest first`,
                  first: after === undefined ? null : address({}),
                  next: orders.length > AT_ONCE && last !== undefined ? address({ after: last.id }) : null,
                },
        },
      }
    },
  })
}
