import { and, asc, eq, getTableColumns, sql } from 'drizzle-orm'
import { parts } from '../../parts/schema.ts'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import {
  job_completions,
  job_steps,
  job_voidings,
  jobs,
  part_line_removals,
  part_lines,
  step_closings,
  step_openings,
  tool_removals,
  tool_shortfalls,
  tools_in,
} from '../schema.ts'

export type VoidingRow = typeof job_voidings.$inferSelect
export type CompletionRow = typeof job_completions.$inferSelect
export type RemovalRow = typeof tool_removals.$inferSelect
/** With the job and the access step of the job step that was opened or closed. */
export type OpeningRow = typeof step_openings.$inferSelect & { job_id: string; access_step_id: string }
export type ClosingRow = typeof step_closings.$inferSelect & { job_id: string; access_step_id: string }
export type ShortfallRow = typeof tool_shortfalls.$inferSelect
/** `removed_at` is NULL while the tool is in; the newest shortfall stands in `out_count` to `short_by`, NULL without one. */
export type ToolInRow = typeof tools_in.$inferSelect & {
  removed_at: number | null
  removed_by: string | null
  not_inside: string | null
  out_count: number | null
  may_be: string | null
  short_at: number | null
  short_by: string | null
}
/** `removal` is null while it stands. */
export type PartLineRow = typeof part_lines.$inferSelect & {
  part_number: string
  part_name: string
  removal: typeof part_line_removals.$inferSelect | null
}

export const insertVoiding = hotInsert(job_voidings)

const voidingsOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(job_voidings))
    .from(job_voidings)
    .innerJoin(jobs, eq(jobs.id, job_voidings.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .prepare(),
)

export function findVoidings(read: Read, orderId: string): VoidingRow[] {
  return voidingsOfOrder(read).all({ orderId })
}

const voidingOfJob = hot((read: Read) =>
  read
    .select()
    .from(job_voidings)
    .where(eq(job_voidings.job_id, sql.placeholder('jobId')))
    .prepare(),
)

export function findVoiding(read: Read, jobId: string): VoidingRow | undefined {
  return voidingOfJob(read).get({ jobId })
}

export const insertCompletion = hotInsert(job_completions)

const completionsOfOrder = hot((read: Read) =>
  read
    .select(getTableColumns(job_completions))
    .from(job_completions)
    .innerJoin(jobs, eq(jobs.id, job_completions.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .prepare(),
)

export function findCompletions(read: Read, orderId: string): CompletionRow[] {
  return completionsOfOrder(read).all({ orderId })
}

export const insertOpening = hotInsert(step_openings)

const openingsOfOrder = hot((read: Read) =>
  read
    .select({
      ...getTableColumns(step_openings),
      job_id: job_steps.job_id,
      access_step_id: job_steps.access_step_id,
    })
    .from(step_openings)
    .innerJoin(job_steps, eq(job_steps.id, step_openings.job_step_id))
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(step_openings.id))
    .prepare(),
)

/** In the order in which they were written down; closings likewise. */
export function findOpenings(read: Read, orderId: string): OpeningRow[] {
  return openingsOfOrder(read).all({ orderId })
}

export const insertClosingRow = hotInsert(step_closings)

const closingsOfOrder = hot((read: Read) =>
  read
    .select({
      ...getTableColumns(step_closings),
      job_id: job_steps.job_id,
      access_step_id: job_steps.access_step_id,
    })
    .from(step_closings)
    .innerJoin(job_steps, eq(job_steps.id, step_closings.job_step_id))
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(step_closings.id))
    .prepare(),
)

export function findClosings(read: Read, orderId: string): ClosingRow[] {
  return closingsOfOrder(read).all({ orderId })
}

export const insertToolIn = hotInsert(tools_in)

export const insertRemoval = hotInsert(tool_removals)

const removalOfTool = hot((read: Read) =>
  read
    .select()
    .from(tool_removals)
    .where(eq(tool_removals.tool_in_id, sql.placeholder('toolInId')))
    .prepare(),
)

export function findRemoval(read: Read, toolInId: string): RemovalRow | undefined {
  return removalOfTool(read).get({ toolInId })
}

export const insertShortfall = hotInsert(tool_shortfalls)

const shortfallsOfTool = hot((read: Read) =>
  read
    .select()
    .from(tool_shortfalls)
    .where(eq(tool_shortfalls.tool_in_id, sql.placeholder('toolInId')))
    .orderBy(asc(tool_shortfalls.id))
    .prepare(),
)

/** Oldest first. */
export function findShortfalls(read: Read, toolInId: string): ShortfallRow[] {
  return shortfallsOfTool(read).all({ toolInId })
}

const isNewestShortfall = sql`${tool_shortfalls.id} = (select max(newest.id) from ${tool_shortfalls} newest where newest.tool_in_id = ${tools_in.id})`

function tools(read: Read) {
  return read
    .select({
      ...getTableColumns(tools_in),
      removed_at: tool_removals.at,
      removed_by: tool_removals.created_by,
      not_inside: tool_removals.not_inside,
      out_count: tool_shortfalls.count,
      may_be: tool_shortfalls.may_be,
      short_at: tool_shortfalls.at,
      short_by: tool_shortfalls.created_by,
    })
    .from(tools_in)
    .innerJoin(jobs, eq(jobs.id, tools_in.job_id))
    .leftJoin(tool_removals, eq(tool_removals.tool_in_id, tools_in.id))
    .leftJoin(tool_shortfalls, and(eq(tool_shortfalls.tool_in_id, tools_in.id), isNewestShortfall))
}

const toolsOfOrder = hot((read: Read) =>
  tools(read)
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(tools_in.id))
    .prepare(),
)

export function findToolsIn(read: Read, orderId: string): ToolInRow[] {
  return toolsOfOrder(read).all({ orderId })
}

const toolOfId = hot((read: Read) =>
  tools(read)
    .where(eq(tools_in.id, sql.placeholder('id')))
    .prepare(),
)

export function findToolIn(read: Read, id: string): ToolInRow | undefined {
  return toolOfId(read).get({ id })
}

/** What each part cost and was sold at when it was last put on a job. */
export function newestPrices(read: Read): { part_id: string; cost_minor: number; price_minor: number }[] {
  return read.all(sql`
    select part_id, cost_minor, price_minor from standing_part_lines
    where id in (select max(id) from standing_part_lines group by part_id)`)
}

export const insertPartLine = hotInsert(part_lines)
export const insertPartLineRemoval = hotInsert(part_line_removals)

const partLinesOfOrder = hot((read: Read) =>
  read
    .select({
      ...getTableColumns(part_lines),
      ...{ part_number: parts.number, part_name: parts.name, removal: part_line_removals },
    })
    .from(part_lines)
    .innerJoin(jobs, eq(jobs.id, part_lines.job_id))
    .innerJoin(parts, eq(parts.id, part_lines.part_id))
    .leftJoin(part_line_removals, eq(part_line_removals.part_line_id, part_lines.id))
    .where(eq(jobs.work_order_id, sql.placeholder('orderId')))
    .orderBy(asc(part_lines.id))
    .prepare(),
)

/** Those taken off again, too. */
export function findPartLines(read: Read, orderId: string): PartLineRow[] {
  return partLinesOfOrder(read).all({ orderId })
}
