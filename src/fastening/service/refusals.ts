import { namesOfPeople, settingsOf } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { problem } from '../../platform/problems.ts'
import type { LoadedJoint } from './joints.ts'
import { leavingToWire, nameOf } from './leaving-wire.ts'

/** 409 once the vehicle has left. */
export function refuseHandedBack({ row }: LoadedJoint): void {
  if (row.handed_back_at === null) return
  throw problem('work-order-handed-back', {
    detail: `Work order ${row.order_number} has been handed back. A record of it can only be put right (supersedes and reason).`,
  })
}

/** 409 while nobody has said how a joint that was left half way goes on. */
export function refuseLeft(ctx: Context, { left, row }: LoadedJoint): void {
  if (left === null) return
  const names = namesOfPeople(ctx)
  throw problem('joint-left', {
    detail: `${row.joint.name} was left half way by ${nameOf(names, left.created_by)} ${when(ctx, left.at)}: ${left.reason}. Carry on or start over first; nothing was recorded.`,
    extra: { left: leavingToWire(left, names) },
  })
}

/** "on 3 March 2031 at 08:10", in the time of the shop. */
export function when(ctx: Context, at: number): string {
  const { time_zone } = settingsOf(ctx)
  return `on ${longDay(localDateOf(at, time_zone))} at ${localTimeOf(at, time_zone)}`
}
