import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay, shortDay } from '../../core/days.ts'
import type { Severity } from '../../core/vocabulary.ts'
import { counted } from '../../core/words.ts'
import { link, plate, ref, strong, telephone, type Words, words } from '../../platform/pages/words.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import type { DoubtedVehicle } from '../service/in-doubt.ts'

export const SEVERITY_WORDS: Record<Severity, string> = {
  safety: 'Safety',
  breakdown: 'Breakdown',
  nuisance: 'Nuisance',
}

/** Safety stands out in black and white, too. */
export function severityWords(severity: Severity): Words {
  return severity === 'safety' ? words(strong(SEVERITY_WORDS.safety)) : SEVERITY_WORDS[severity]
}

export function vehicleWords({ id, plate: number, title, family }: DoubtedVehicle): Words {
  const name = number === null ? title : plate(number)
  return words(link(`/vehicles/${id}`, name), ` ${family}`)
}

export function leftWords({ in_house, left_on }: DoubtedVehicle): string {
  if (in_house) return 'in the house'
  return left_on === null ? 'not here' : shortDay(left_on)
}

/** Name and number, each a link. */
export function callWords({ call }: DoubtedVehicle): Words {
  if (call === null) return 'nobody known'
  const phone = call.phone === null ? 'no number known' : link(telephone(call.phone), ref(call.phone))
  return words(link(`/customers/${call.id}`, call.name), ', ', phone)
}

/** "work order 2031-0188, 24 Sep 2031". */
export function whereWords(doubt: Doubt | PartInDoubt, timeZone: string): Words {
  const since = shortDay(localDateOf(fromInstant(doubt.since), timeZone))
  return words(link(`/work-orders/${doubt.work_order_id}`, ref(doubt.work_order_number)), `, ${since}`)
}

export function dayWords(instant: string, timeZone: string): string {
  return longDay(localDateOf(fromInstant(instant), timeZone))
}

/** "2 joints and 1 part". */
export function thingsWords(joints: number, parts: number): string {
  return [...(joints === 0 ? [] : [counted(joints, 'joint')]), ...(parts === 0 ? [] : [counted(parts, 'part')])].join(
    ' and ',
  )
}

/** What stands beside the form about a vehicle in doubt. */
export function vehicleFacts(vehicle: DoubtedVehicle) {
  return [
    { label: 'Vehicle', value: vehicleWords(vehicle) },
    { label: vehicle.in_house ? 'Now' : 'Left', value: leftWords(vehicle) },
    { label: 'Call', value: callWords(vehicle) },
  ]
}

/** "4 Nov 2031, 14:20". */
export function momentWords(ms: number, timeZone: string): string {
  return `${shortDay(localDateOf(ms, timeZone))}, ${localTimeOf(ms, timeZone)}`
}
