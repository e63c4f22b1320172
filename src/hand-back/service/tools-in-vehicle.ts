import type { OrderPlan } from '../../work-orders/index.ts'

/** A tool that went into the vehicle, and its way out: instants in milliseconds, steps by name. */
export interface ToolInVehicle {
  id: string
  job_id: string
  tool: string
  count: number
  in_at: number
  in_by: string | null
  needed_for: string | null
  out_before: string | null
  out_at: number | null
  out_by: string | null
}

/** Every tool that any job of an order ever put in, voided ones too, in the order in which they went in. */
export function toolsOfOrder(plan: OrderPlan): ToolInVehicle[] {
  const nameOf = (stepId: string | null) => plan.steps.find(step => step.access_step_id === stepId)?.name ?? null
  return plan.jobs
    .flatMap(job => job.tools_in)
    .map(tool => ({
      ...{ id: tool.id, job_id: tool.job_id, tool: tool.tool, count: tool.count },
      ...{ in_at: tool.at, in_by: tool.created_by, out_at: tool.removed_at, out_by: tool.removed_by },
      needed_for: nameOf(tool.for_step_id),
      out_before: nameOf(tool.before_step_id),
    }))
    .sort((one, other) => one.in_at - other.in_at)
}
