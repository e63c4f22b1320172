import type { Settings } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { shortDay, weekdayAndDay } from '../../core/days.ts'
import * as platform from '../../platform/pages/pen.ts'
import { link, plate, type Words, words } from '../../platform/pages/words.ts'
import type { Customer, Vehicle } from '../../vehicles/index.ts'

/** Writes instants, too, as the workshop's clock shows them. */
export interface Pen extends platform.Pen {
  /** The day of an instant in milliseconds, YYYY-MM-DD. */
  dayOf(ms: number): string
  /** 4 Nov 2031, 11:46. */
  moment(ms: number): string
  /** Tuesday 4 November 2031, 09:12. */
  longMoment(ms: number): string
}

export function penOf({ currency, locale, time_zone }: Settings): Pen {
  const dayOf = (ms: number) => localDateOf(ms, time_zone)
  return {
    ...platform.penOf({ currency, locale }),
    dayOf,
    moment: ms => `${shortDay(dayOf(ms))}, ${localTimeOf(ms, time_zone)}`,
    longMoment: ms => `${weekdayAndDay(dayOf(ms))}, ${localTimeOf(ms, time_zone)}`,
  }
}

export function familyWords({ family, variant }: Pick<Vehicle, 'family' | 'variant'>): string {
  return [family, variant].filter(Boolean).join(', ')
}

/** What a vehicle is called where it has no registration. */
export function titleOf(vehicle: Vehicle): string {
  return vehicle.plate ?? vehicle.vin ?? vehicle.frame_number ?? vehicle.imported_as ?? vehicle.family
}

/** The way to what was recorded of one joint, on one sheet. */
export function recordLink(jointId: string, name: string) {
  return link(`/joints/${jointId}/record`, `Fastening record: ${name}`)
}

/** Whose sheet it is: plate, family, customer. */
export function subjectWords(vehicle: Vehicle, customer: Customer | null): Words {
  const who = customer === null ? '' : ` · ${customer.name}`
  return words(...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']), `${familyWords(vehicle)}${who}`)
}

/** By the names of people, as a sheet holds them. */
export function personOf(people: Map<string, string>, id: string | null): string {
  return (id === null ? undefined : people.get(id)) ?? 'the program'
}
