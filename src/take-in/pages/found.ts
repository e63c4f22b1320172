import { longDay, shortDay, weekdayAndDay } from '../../core/days.ts'
import { capital } from '../../core/words.ts'
import type { Doubt } from '../../fastening/index.ts'
import { type Cell, column, type Row, type TableView, table } from '../../platform/pages/table.ts'
import { link, plate, ref, strong, telephone, type Words, words } from '../../platform/pages/words.ts'
import type { FoundVehicle } from '../../vehicles/index.ts'
import type { WorkOrderRecord } from '../../work-orders/index.ts'
import { STATE_WORDS } from '../rules/words.ts'
import type { Found } from '../service/find.ts'
import type { Stay } from '../service/in-house.ts'
import { familyWords, type Pen, titleOf } from './pen.ts'

/** Where what was found leads: at the desk to its page, while taking in to the form. */
export interface Leads {
  order(order: WorkOrderRecord): string
  vehicle(id: string): string
  customer(id: string): string
}

export interface FoundView {
  heading: string
  stays: { word: string; text: Words; why: Words }[]
  others: TableView | null
  nothing: string | null
  /** More may be called so: type more of it. */
  more: boolean
}

/** What the one box found: vehicles that are here as sentences, the rest in a table. */
export function foundView(found: Found, q: string, pen: Pen, leads: Leads): FoundView {
  const { stays, left, vehicles, customers } = found
  const rows = [
    ...left.map(({ order, invoice }) => ({
      cells: [
        words(link(leads.order(order), `${invoice === null ? 'Order' : 'Invoice'} ${invoice ?? order.number}`)),
        invoice === null ? 'Handed back' : `On order ${order.number}, handed back`,
        '',
        '',
      ],
    })),
    ...vehicles.map(vehicle => vehicleRow(vehicle, leads)),
    ...customers.map(customer => ({
      cells: [words(link(leads.customer(customer.id), customer.name)), 'Customer', '', phoneWords(customer.phone)],
    })),
  ]
  const isEmpty = stays.length + rows.length === 0
  return {
    heading: found.nearly && !isEmpty ? `Nothing is called “${q}”; this is nearly so` : `Found with “${q}”`,
    stays: stays.map(stay => staySentence(stay, pen, leads)),
    others:
      rows.length === 0
        ? null
        : table({ columns: [column('Not here now'), column('What'), column('Whose'), column('Telephone')], rows }),
    nothing: isEmpty
      ? `Nothing here is called “${q}”: no registration, VIN, frame or engine number, name, telephone, order or invoice number. Try less of it, or add it.`
      : null,
    more: found.more,
  }
}

/** A vehicle with whose it is. */
export function vehicleRow(vehicle: FoundVehicle, leads: Pick<Leads, 'vehicle'>): Row {
  const { id, plate: registration, keeper } = vehicle
  return {
    cells: [
      words(link(leads.vehicle(id), registration === undefined ? titleOf(vehicle) : plate(registration))),
      familyWords(vehicle),
      keeper?.name ?? 'nobody known',
      phoneWords(keeper?.phone),
    ],
  }
}

function phoneWords(phone: string | undefined): Words {
  return phone === undefined ? '' : words(link(telephone(phone), phone))
}

/** "Is mine ready?", answered. */
function staySentence(stay: Stay, pen: Pen, leads: Leads): { word: string; text: Words; why: Words } {
  const { order, vehicle, customer, state, waits_for } = stay
  const answer = state === 'ready' ? 'ready to be fetched' : `not ready yet, it waits for ${waits_for}`
  const name = vehicle.plate === undefined ? `${titleOf(vehicle)}` : plate(vehicle.plate)
  return {
    word: capital(STATE_WORDS[state]),
    text: words(
      link(leads.order(order), name),
      ` ${familyWords(vehicle)}, ${customer.name}: ${answer}.`,
      ` ${promiseSentence(stay)}`,
    ),
    why: words(
      'Work order ',
      link(`/work-orders/${order.id}`, ref(order.number)),
      `, here since ${longDay(pen.dayOf(stay.taken_in))}. Last said: ${lastSaid(stay, pen)}.`,
    ),
  }
}

function promiseSentence({ promised_on, late, moved }: Stay): string {
  const before = movedWords(moved, weekdayAndDay)
  if (promised_on === null) return `No day was promised${before}.`
  return late
    ? `It was promised for ${weekdayAndDay(promised_on)}${before}, and is late.`
    : `Promised for ${weekdayAndDay(promised_on)}${before}.`
}

/** ", before that for 5 November": the promised days that were moved; empty where none was. */
export function movedWords(moved: Stay['moved'], write: (day: string) => string): string {
  const days = moved.flatMap(({ was_on }) => (was_on === undefined ? [] : [write(was_on)]))
  return days.length === 0 ? '' : `, before that for ${days.join(', then ')}`
}

/** The last talk, or when anything was last written down; and what was promised, in whichever talk that was. */
export function lastSaid({ last_talk, last_promise, since }: Stay, pen: Pen): string {
  if (last_talk === null) return `nothing; last written down ${pen.moment(since)}`
  const said = last_talk.said.replace(/\.$/, '')
  const promised = last_promise?.promised === undefined ? '' : `; promised: ${last_promise.promised}`
  return `${pen.moment(Date.parse(last_talk.created_at))} with ${last_talk.with}: ${said}${promised}`
}

/** The table of everything that is here; `doubts` are the open ones, of whichever vehicles. */
export function staysTable(stays: readonly Stay[], doubts: readonly Doubt[], pen: Pen): TableView {
  return table({
    columns: [
      column('Order'),
      column('Vehicle'),
      column('Customer'),
      column('Where it stands'),
      column('Since', 'date'),
      column('Promised', 'date'),
    ],
    rows: stays.map(stay => ({
      cells: [
        words(link(`/work-orders/${stay.order.id}`, ref(stay.order.number))),
        {
          text: words(
            link(
              `/vehicles/${stay.vehicle.id}`,
              stay.vehicle.plate === undefined ? titleOf(stay.vehicle) : plate(stay.vehicle.plate),
            ),
          ),
          notes: [familyWords(stay.vehicle)],
        },
        { text: stay.customer.name, notes: stay.customer.phone === undefined ? [] : [phoneWords(stay.customer.phone)] },
        {
          text: capital(STATE_WORDS[stay.state]),
          notes: [...doubtNotes(stay, doubts), `waits for ${stay.waits_for}`],
        },
        { text: shortDay(pen.dayOf(stay.since)), notes: [`here since ${shortDay(pen.dayOf(stay.taken_in))}`] },
        promiseCell(stay),
      ],
    })),
    empty: 'Nothing is in the house.',
  })
}

function doubtNotes({ vehicle }: Stay, doubts: readonly Doubt[]): Words[] {
  const own = doubts.filter(doubt => doubt.vehicle_id === vehicle.id)
  if (own.length === 0) return []
  const isSafety = own.some(doubt => doubt.severity === 'safety')
  return [words(strong(isSafety ? 'In doubt: look at it before anyone drives it.' : 'A bolted joint is in doubt.'))]
}

function promiseCell({ promised_on, late, moved }: Stay): Cell {
  const before = moved.flatMap(({ was_on }) => (was_on === undefined ? [] : [`before: ${shortDay(was_on)}`]))
  if (promised_on === null) return { text: 'no day', notes: before }
  const day = shortDay(promised_on)
  return { text: late ? words({ text: `late: ${day}`, strong: true }) : day, notes: before }
}
