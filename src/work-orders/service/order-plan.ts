import type * as bench from '../queries/bench.ts'
import type * as doings from '../queries/doings.ts'
import type { HandBackRow, WorkOrderRow } from '../queries/orders.ts'
import type * as plan from '../queries/plan.ts'
import type { SharedStep } from '../rules/shared-steps.ts'

/** A job with its plan and all that was done on it, as rows: instants in milliseconds. */
export interface PlannedJob extends plan.JobRow {
  voiding: doings.VoidingRow | null
  completion: doings.CompletionRow | null
  steps: plan.JobStepRow[]
  joints: plan.JobJointRow[]
  looks: plan.JobLookRow[]
  final_checks: plan.JobFinalCheckRow[]
  /** `made` is null while nobody has made the mark. */
  marks: (plan.JobMarkRow & { made: bench.MarkRecordRow | null })[]
  /** Those that the plan says will go in. */
  tools: plan.JobToolRow[]
  /** Those that are out again, too. */
  tools_in: doings.ToolInRow[]
  /** Those that stand: charged, issued, fitted. */
  part_lines: doings.PartLineRow[]
  /** Those taken off again. */
  part_lines_off: doings.PartLineRow[]
}

/** The part of a plan that tells which tools are inside, and behind what. */
export interface ToolsOfPlan {
  jobs: readonly Pick<PlannedJob, 'tools_in'>[]
  steps: readonly SharedStep[]
}

/** Everything that is planned and done on a work order. */
export interface OrderPlan {
  order: WorkOrderRow
  hand_back: HandBackRow | null
  /** Every job, voided ones too, in the order in which they were added. */
  jobs: PlannedJob[]
  /** Every access step of every job, each once, after those it needs, with its state. */
  steps: SharedStep[]
  /** In the order in which they were written down. */
  openings: doings.OpeningRow[]
  closings: doings.ClosingRow[]
  engine_turns: bench.EngineTurnRow[]
  clocks: bench.ClockStartRow[]
}
