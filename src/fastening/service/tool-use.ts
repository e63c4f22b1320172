import { settingsOf } from '../../accounts/index.ts'
import { localDateOf, monthOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import type { DoubtCount, MonthOfUse, ToolUse } from '../../tools/index.ts'
import { usesOf } from '../queries/tool-use.ts'
import { wrenchCycles } from './activity.ts'
import { allDoubts } from './doubts.ts'

/** What the torque records and the doubts say of the tools; handed to their register by the composition root. */
export const toolUse: ToolUse = { cyclesSince: wrenchCycles, usesByMonth, jointsSince, doubtsByCause }

function usesByDay(ctx: Context, toolId: string): { joint_id: string; on: string }[] {
  const { time_zone } = settingsOf(ctx)
  return usesOf(ctx.read, toolId).map(({ joint_id, made_at }) => ({ joint_id, on: localDateOf(made_at, time_zone) }))
}

function usesByMonth(ctx: Context, toolId: string): MonthOfUse[] {
  const months = new Map<string, { uses: number; joints: Set<string> }>()
  for (const { joint_id, on } of usesByDay(ctx, toolId)) {
    const { uses, joints } = months.get(monthOf(on)) ?? { uses: 0, joints: new Set<string>() }
    months.set(monthOf(on), { uses: uses + 1, joints: joints.add(joint_id) })
  }
  return [...months].map(([month, { uses, joints }]) => ({ month, uses, joints: joints.size })).reverse()
}

function jointsSince(ctx: Context, toolId: string, sinceOn: string): number {
  const touched = usesByDay(ctx, toolId).filter(use => use.on >= sinceOn)
  return new Set(touched.map(use => use.joint_id)).size
}

function doubtsByCause(ctx: Context): Map<string, DoubtCount> {
  const counts = new Map<string, DoubtCount>()
  for (const { cause_id, settled } of allDoubts(ctx)) {
    const { joints, open } = counts.get(cause_id) ?? { joints: 0, open: 0 }
    counts.set(cause_id, { joints: joints + 1, open: open + (settled === null ? 1 : 0) })
  }
  return counts
}
