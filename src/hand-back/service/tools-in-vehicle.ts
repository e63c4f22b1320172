import { missingWords, outBefore, type ToolsOfPlan } from '../../work-orders/index.ts'

/** A tool that went into the vehicle, and its way out: instants in milliseconds, steps by name. */
export interface ToolInVehicle {
  id: string
  job_id: string
  tool: string
  count: number
  in_at: number
  in_by: string | null
  needed_for: string | null
  /** In words: '"Wheel off" is closed'. */
  out_before: string
  out_at: number | null
  out_by: string | null
  /** While it is in: what of it is lost, and where it may be. Once it is out: how it is known that the rest is not inside. */
  lost: string | null
}

/** Every tool of a plan, also of voided jobs, in the order in which they went in. */
export function toolsOfOrder(plan: ToolsOfPlan): ToolInVehicle[] {
  const nameOf = (stepId: string | null) => plan.steps.find(step => step.access_step_id === stepId)?.name ?? null
  return plan.jobs
    .flatMap(job => job.tools_in)
    .map(tool => ({
      ...{ id: tool.id, job_id: tool.job_id, tool: tool.tool, count: tool.count },
      ...{ in_at: tool.at, in_by: tool.created_by, out_at: tool.removed_at, out_by: tool.removed_by },
      needed_for: nameOf(tool.for_step_id),
      out_before: outBefore(tool, plan.steps),
      lost: tool.removed_at === null ? missingWords(tool) : lostOutside(tool),
    }))
    .sort((one, other) => one.in_at - other.in_at)
}

function lostOutside({ not_inside }: { not_inside: string | null }): string | null {
  return not_inside === null ? null : `not all of it came out; it is not in the vehicle: ${not_inside}`
}
