import { namesOfPeople } from '../../accounts/index.ts'
import type { CalendarDate } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import { fromInstant } from '../../platform/wire.ts'
import type { Doubt, PartInDoubt } from '../contract/doubt.ts'
import { batchesOnJobs } from '../queries/batches.ts'
import { customersToCall, vehiclesInDoubt } from '../queries/doubted-vehicles.ts'
import type { Cause } from './doubt-causes.ts'
import { type FoundDoubt, findDoubts } from './doubts.ts'
import { type FoundPart, findParts } from './parts-in-doubt.ts'

/** Whom to ring about a vehicle. */
export interface ToCall {
  id: string
  name: string
  phone: string | null
}

export interface DoubtedVehicle {
  id: string
  plate: string | null
  /** What it is called where it has no registration. */
  title: string
  family: string
  in_house: boolean
  left_on: CalendarDate | null
  /** Its keeper, else whoever brought it when the work was done; null when nobody is known. */
  call: ToCall | null
}

/** What one cause has put in doubt and nobody has settled. */
export interface DoubtGroup {
  cause: Cause
  joints: Doubt[]
  parts: PartInDoubt[]
}

export interface SettledDoubt {
  doubt: Doubt | PartInDoubt
  cause: Cause
  /** The names of whoever settled it; null when nobody with a name did. */
  by: string | null
}

export interface InDoubt {
  /** The cause with the worst joint first. */
  open: DoubtGroup[]
  vehicles: Map<string, DoubtedVehicle>
  /** The newest first. */
  settled: SettledDoubt[]
}

/** Everything that is in doubt, by cause, with the vehicles and whom to call; and what was settled. */
export function inDoubt(ctx: Context): InDoubt {
  const joints = findDoubts(ctx, null)
  const parts = findParts(ctx, null)
  return {
    open: grouped(joints, parts),
    vehicles: vehiclesOf(ctx, joints, parts),
    settled: settledOf(ctx, joints, parts),
  }
}

function grouped(joints: readonly FoundDoubt[], parts: readonly FoundPart[]): DoubtGroup[] {
  const groups = new Map<string, DoubtGroup>()
  const groupOf = (cause: Cause): DoubtGroup => {
    const group = groups.get(cause.id) ?? { cause, joints: [], parts: [] }
    groups.set(cause.id, group)
    return group
  }
  for (const { doubt, cause } of joints) if (doubt.settled === null) groupOf(cause).joints.push(doubt)
  for (const { part, cause } of parts) if (part.settled === null) groupOf(cause).parts.push(part)
  return [...groups.values()]
}

function vehiclesOf(
  ctx: Context,
  joints: readonly FoundDoubt[],
  parts: readonly FoundPart[],
): Map<string, DoubtedVehicle> {
  const broughtBy = new Map<string, string>()
  for (const { doubt, customer_id } of joints) broughtBy.set(doubt.vehicle_id, customer_id)
  for (const { part, customer_id } of parts) broughtBy.set(part.vehicle_id, customer_id)
  const rows = vehiclesInDoubt(ctx.read, [...broughtBy.keys()])
  const customerOf = new Map(rows.map(row => [row.vehicle_id, row.keeper_id ?? broughtBy.get(row.vehicle_id)!]))
  const people = new Map(customersToCall(ctx.read, [...new Set(customerOf.values())]).map(row => [row.id, row]))
  return new Map(
    rows.map(({ vehicle_id, plate, title, family, in_house, left_on }) => [
      vehicle_id,
      {
        ...{ id: vehicle_id, plate, title, family, in_house: in_house === 1 },
        left_on: in_house === 1 ? null : left_on,
        call: people.get(customerOf.get(vehicle_id)!) ?? null,
      },
    ]),
  )
}

function settledOf(ctx: Context, joints: readonly FoundDoubt[], parts: readonly FoundPart[]): SettledDoubt[] {
  const names = namesOfPeople(ctx)
  const all = [
    ...joints.map(({ doubt, cause }) => ({ doubt, cause })),
    ...parts.map(({ part, cause }) => ({ doubt: part, cause })),
  ]
  return all
    .filter(({ doubt }) => doubt.settled !== null)
    .map(each => {
      const { by, second } = each.doubt.settled!
      const people = [by, second?.by].flatMap(id => (id == null ? [] : (names.get(id) ?? [])))
      return { ...each, by: people.length === 0 ? null : people.join(', ') }
    })
    .sort((one, other) => settledAt(other) - settledAt(one))
}

function settledAt({ doubt }: { doubt: Doubt | PartInDoubt }): number {
  return doubt.settled === null ? 0 : fromInstant(doubt.settled.at)
}

/** The vehicle of a doubt or a part, and whom to call. */
export function vehicleOfDoubt(ctx: Context, found: FoundDoubt | FoundPart): DoubtedVehicle {
  const [joints, parts] = 'doubt' in found ? [[found], []] : [[], [found]]
  return [...vehiclesOf(ctx, joints, parts).values()][0]!
}

/** The batches of a part that stand on jobs, the newest first: one of them is the bad one. */
export function batchesOfPart(ctx: Context, partId: string): string[] {
  return batchesOnJobs(ctx.read, partId)
}
