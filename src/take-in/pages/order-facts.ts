import { capital, distanceInWords } from '../../core/words.ts'
import { link, strong, telephone, type Words, words } from '../../platform/pages/words.ts'
import { leftWithIt, outBefore } from '../../work-orders/index.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import { lastSaid } from './found.ts'
import type { Pen } from './pen.ts'

interface Fact {
  label: string
  value: Words
  chief?: boolean
  note?: Words
}

/** What was said last, then the money, then the rest; where it stands is said above all of it. */
export function orderFacts(sheet: OrderSheet, pen: Pen): Fact[] {
  const { order, stay, standing, customer, hours } = sheet
  const { charges, plan } = standing
  const left = charges.agreed_minor - charges.total_minor
  const isHere = plan.hand_back === null
  return [
    ...(isHere ? [{ label: 'Last said', value: lastSaid(stay, pen) }] : []),
    { label: 'To pay', value: pen.money(charges.gross_minor), chief: true },
    ...(charges.total_minor === charges.gross_minor
      ? []
      : [{ label: 'Borne by us', value: pen.money(charges.total_minor - charges.gross_minor) }]),
    { label: 'Agreed up to', value: charges.has_yes ? pen.money(charges.agreed_minor) : 'nobody has said yes yet' },
    ...(charges.has_yes && isHere
      ? [
          left >= 0
            ? { label: 'Left before we must ask', value: pen.money(left) }
            : { label: 'Above the yes', value: words(strong(`${pen.money(-left)}: ask first`)) },
        ]
      : []),
    { label: 'Hours together', value: hoursWords(hours) },
    ...(order.odometer_km === undefined
      ? []
      : [{ label: 'Odometer in', value: distanceInWords(order.odometer_km, sheet.vehicle.odometer_unit) }]),
    ...(order.odometer_unread === undefined ? [] : [{ label: 'Odometer not read', value: order.odometer_unread }]),
    ...leftWithIt(order),
    ...(order.place === undefined ? [] : [{ label: 'Where it is', value: order.place }]),
    {
      label: 'Customer',
      value: words(link(`/customers/${customer.id}`, customer.name)),
      ...(customer.phone !== undefined && { note: words(link(telephone(customer.phone), customer.phone)) }),
    },
    ...(customer.note === undefined ? [] : [{ label: 'About the customer', value: customer.note }]),
  ]
}

function hoursWords({ hours_together, hours_apart }: OrderSheet['hours']): string {
  return hours_apart > hours_together ? `${hours_together} h; one at a time ${hours_apart} h` : `${hours_together} h`
}

const ARRIVED = { runs: 'It runs.', does_not_run: 'It does not run.', towed: 'It was towed here.' }

/** How it came: in one paragraph. */
export function arrivalWords({ order }: OrderSheet): string {
  const fuel = order.fuel === undefined ? '' : `Fuel: ${order.fuel}`
  const said = [order.damage, fuel, order.arrival_note].filter(Boolean).map(each => each?.replace(/\.?$/, '.'))
  return [ARRIVED[order.arrived], ...said].join(' ')
}

/** What keeps it from going, each with the way there; a sentence when nothing does. */
export function beforeHandBack({ standing }: OrderSheet) {
  return standing.blockers.map(({ sentence, href }) => ({ state: 'blocked', text: words(link(href, sentence)) }))
}

/** Tools that must come out again. */
export function toolsInside({ standing, people }: OrderSheet, pen: Pen): string | null {
  const { jobs, steps } = standing.plan
  const inside = jobs.flatMap(job => job.tools_in).filter(tool => tool.removed_at === null)
  if (inside.length === 0) return null
  return inside
    .map(({ tool, at, created_by, before_step_id }) => {
      const who = created_by === null ? '' : ` by ${people.get(created_by) ?? 'somebody'}`
      return `${capital(tool)}, put in ${pen.moment(at)}${who}. It must be out before ${outBefore({ before_step_id }, steps)}.`
    })
    .join(' ')
}
