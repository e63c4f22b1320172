import { longDay, shortDay } from '../../core/days.ts'
import { fromSi, toSi } from '../../core/quantities.ts'
import { vin } from '../../core/vin.ts'
import { distanceInWords, grouped } from '../../core/words.ts'
import { link, ref, telephone, type Words, words } from '../../platform/pages/words.ts'
import { termInWords } from '../rules/flags.ts'
import { dayAtKm, expectedKm } from '../rules/usage.ts'
import type { VehicleSheet } from '../service/vehicle-sheet.ts'
import type { Pen } from './pen.ts'

interface Fact {
  label: string
  value: Words
  chief?: boolean
}

const DAYS_IN_YEAR = 365.25
/** The next full distance that is worth a date. */
const FULL = 10_000

/** What the vehicle is, how it is driven, and what is still owed to it. */
export function vehicleFacts(sheet: VehicleSheet, today: string, pen: Pen): Fact[] {
  const { vehicle, odometer, odometer_oddities, here, left_for_later } = sheet
  const unit = vehicle.odometer_unit
  return [
    ...here.map(order => ({
      label: 'In the house',
      value: words(
        'since ',
        longDay(pen.dayOf(Date.parse(order.created_at))),
        ', ',
        link(`/work-orders/${order.id}`, ref(order.number)),
      ),
    })),
    {
      label: 'Odometer',
      value: odometer === null ? 'never read' : distanceInWords(odometer.distance_km, unit),
      chief: true,
    },
    ...(odometer === null ? [] : [{ label: 'Read', value: [longDay(odometer.on), ...odometer_oddities].join('; ') }]),
    ...usageFacts(sheet, today),
    ...numberFacts(sheet),
    ...(vehicle.first_registered_on === undefined
      ? []
      : [{ label: 'First registered', value: longDay(vehicle.first_registered_on) }]),
    ...sheet.warranties.map(job => ({
      label: 'Warranty running',
      value: words(
        `${job.task}, ${termInWords(job.warranty ?? {}, unit)}, `,
        link(`/work-orders/${job.work_order_id}`, ref(job.work_order_number)),
      ),
    })),
    ...(left_for_later.length === 0 ? [{ label: 'Left for later', value: 'nothing now' }] : []),
    ...left_for_later.map(left => ({
      label: 'Left for later',
      value: `${left.text.replace(/\.$/, '')}; ${shortDay(pen.dayOf(Date.parse(left.created_at)))}${left.amount_minor === undefined ? '' : `, priced then at ${pen.money(left.amount_minor)}`}`,
    })),
  ]
}

function usageFacts({ usage, vehicle }: VehicleSheet, today: string): Fact[] {
  if (usage === null) return []
  const unit = vehicle.odometer_unit
  const yearly = fromSi(usage.km_per_day, unit) * DAYS_IN_YEAR
  const tens = (value: number) => `${grouped(String(Math.round(value / 10) * 10))} ${unit}`
  const { days_read } = usage
  const from = days_read === 2 ? 'from two readings' : `the middle of what any two of ${days_read} readings say`
  const now = fromSi(expectedKm(usage, today), unit)
  const next = (Math.floor(now / FULL) + 1) * FULL
  const day = dayAtKm(usage, toSi(next, unit))
  return [
    { label: 'It is driven', value: `${tens(yearly)} a year, ${tens(yearly / 12)} a month, ${from}` },
    ...(usage.last.on === today ? [] : [{ label: 'Expected today', value: tens(now) }]),
    ...(day === null ? [] : [{ label: `${grouped(String(next))} ${unit}`, value: `about ${longDay(day)}` }]),
  ]
}

/** Its numbers, and what a number of seventeen places says about itself. */
function numberFacts({ vehicle }: VehicleSheet): Fact[] {
  const { vin: vinNumber, frame_number, engine_number } = vehicle
  return [
    ...(vinNumber === undefined ? [] : seventeen('VIN', vinNumber)),
    ...(frame_number === undefined ? [] : seventeen('Frame number', frame_number)),
    ...(engine_number === undefined ? [] : [{ label: 'Engine number', value: engine_number }]),
  ]
}

function seventeen(label: string, number: string): Fact[] {
  if (number.replace(/\s/g, '').length !== 17) return [{ label, value: number }]
  const { valid_form, check_digit, model_years, decided } = vin(number)
  if (!valid_form) {
    return [{ label, value: `${number}: not the form of a VIN, which holds digits and letters, never I, O or Q` }]
  }
  const [earlier, later] = model_years
  const other = decided === earlier ? later : earlier
  return [
    { label, value: `${number}: the form is right${checkWords(check_digit)}` },
    ...(decided === null || other === undefined
      ? []
      : [{ label: 'Model year', value: `${decided}; ${other} for what is no car or light vehicle` }]),
  ]
}

function checkWords(check: { expected: string; actual: string; ok: boolean } | null): string {
  if (check === null) return ''
  return check.ok
    ? `; check digit ${check.actual} fits`
    : `; place 9 is ${check.actual}, the check digit would be ${check.expected}, which matters only where the law asks for one`
}

export function keeperFacts({ keeper, keeper_since }: VehicleSheet, pen: Pen): Fact[] {
  if (keeper === null) return [{ label: 'Name', value: 'nobody known' }]
  return [
    { label: 'Name', value: words(link(`/customers/${keeper.id}`, keeper.name)) },
    ...(keeper.phone === undefined
      ? []
      : [{ label: 'Telephone', value: words(link(telephone(keeper.phone), keeper.phone)) }]),
    ...(keeper_since === null ? [] : [{ label: 'Written down', value: longDay(pen.dayOf(keeper_since)) }]),
  ]
}
