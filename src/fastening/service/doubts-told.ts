import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { type CalendarDate, localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import { fromInstant } from '../../platform/wire.ts'
import { wrenchFacts } from '../../tools/index.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import { briefly, doubtTold } from '../rules/doubt-words.ts'
import { type FoundDoubt, findDoubtsOfVehicle, openDoubts } from './doubts.ts'
import { allPartsInDoubt, findParts } from './parts-in-doubt.ts'

/** What the history of a joint or a vehicle says of a doubt, for good; the records and verdicts of then stay as they are. */
export interface Told {
  open: boolean
  from_on: CalendarDate
  /** The day it was settled; null while it is open. */
  to_on: CalendarDate | null
  /** Finished: "In doubt from 3 May 2031 to 9 May 2031: …; settled by …." */
  told: string
  /** Where the joint is, or the part's work order. */
  href: string
}

/** Doubts about joints as their history says them, open and settled, the oldest first. */
export function doubtsTold(ctx: Context, found: readonly FoundDoubt[]): (Doubt & Told)[] {
  return tell(
    ctx,
    found.map(({ doubt }) => doubt),
  )
}

/** The doubts of a vehicle, about its joints and about parts whose joint nobody named; open and settled, the oldest first. */
export function doubtsOfVehicle(ctx: Context, vehicleId: string): ((Doubt | PartInDoubt) & Told)[] {
  const doubts = findDoubtsOfVehicle(ctx, vehicleId).map(({ doubt }) => doubt)
  const parts = findParts(ctx, vehicleId).map(({ part }) => part)
  return tell<Doubt | PartInDoubt>(ctx, [...doubts, ...parts])
}

function tell<Of extends Doubt | PartInDoubt>(ctx: Context, doubts: readonly Of[]): (Of & Told)[] {
  if (doubts.length === 0) return []
  const { time_zone } = settingsOf(ctx)
  const names = namesOfPeople(ctx)
  const dayOf = (instant: string) => localDateOf(fromInstant(instant), time_zone)
  return doubts
    .map(doubt => {
      const { sentence, known_at, settled } = doubt
      const from_on = dayOf(known_at)
      const to_on = settled === null ? null : dayOf(settled.at)
      const said = settled ?? ('joint_id' in doubt ? doubt.waits_for_second_person : null)
      const nameOf = (id: string | null) => (id === null ? null : (names.get(id) ?? null))
      const told = doubtTold({
        ...{ sentence, from_on, to_on },
        word: said && {
          how: said.how,
          note: said.note ?? null,
          by: nameOf(said.by),
          checked_with: wrenchName(ctx, said.checked_with),
        },
        second: said?.second === undefined ? null : { how: said.second.how, by: nameOf(said.second.by) },
      })
      const href = 'joint_id' in doubt ? `/bench/joints/${doubt.joint_id}` : `/work-orders/${doubt.work_order_id}`
      return { ...doubt, open: settled === null, from_on, to_on, told, href }
    })
    .sort((one, other) => one.from_on.localeCompare(other.from_on) || one.id.localeCompare(other.id))
}

function wrenchName(ctx: Context, id: string | undefined): string | null {
  return id === undefined ? null : (wrenchFacts(ctx, id)?.name ?? null)
}

/** "Five bolted joints on four vehicles are in doubt, two of them a matter of safety." Null when nothing is. `doubts`: the open ones. */
export function inDoubtBriefly(ctx: Context, doubts: readonly Doubt[] = openDoubts(ctx)): string | null {
  const parts = allPartsInDoubt(ctx).filter(part => part.settled === null)
  const joints = new Map(doubts.map(doubt => [doubt.joint_id, doubt.severity]))
  return briefly({
    joints: joints.size,
    safety: [...joints.values()].filter(severity => severity === 'safety').length,
    parts: parts.length,
    vehicles: new Set([...doubts, ...parts].map(one => one.vehicle_id)).size,
  })
}
