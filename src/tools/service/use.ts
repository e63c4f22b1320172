import type { Context } from '../../platform/context.ts'

/** A month of a tool's use: '2031-10', how many readings or settings, on how many joints. */
export interface MonthOfUse {
  month: string
  uses: number
  joints: number
}

/** How many joints a failed check or a drop puts in doubt, and how many of them are still to be settled. */
export interface DoubtCount {
  joints: number
  open: number
}

/** How often a wrench has been used since a day: the torque records know, and they come later than the register. */
export type CyclesSince = (wrenchId: string, sinceOn: string) => number

/**
 * What the fastening records know about the tools. Fastening builds on the register, so it cannot be asked from here: the
 * composition root hands this in.
 */
export interface ToolUse {
  cyclesSince(ctx: Context): CyclesSince
  /** The newest month first. `toolId` is a wrench or a gauge. */
  usesByMonth(ctx: Context, toolId: string): MonthOfUse[]
  /** On how many joints a wrench or gauge was used since a day. */
  jointsSince(ctx: Context, toolId: string, sinceOn: string): number
  /** By the id of the certificate, check or withdrawal that is the cause. */
  doubtsByCause(ctx: Context): Map<string, DoubtCount>
}
