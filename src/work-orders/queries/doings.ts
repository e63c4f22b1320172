import { asc, eq, getTableColumns } from 'drizzle-orm'
import { parts } from '../../parts/schema.ts'
import type { Read, Tx } from '../../platform/database/types.ts'
import {
  job_completions,
  job_steps,
  job_voidings,
  jobs,
  part_lines,
  step_closings,
  step_openings,
  tool_removals,
  tools_in,
} from '../schema.ts'

export type VoidingRow = typeof job_voidings.$inferSelect
export type CompletionRow = typeof job_completions.$inferSelect
export type RemovalRow = typeof tool_removals.$inferSelect
/** With the job and the access step of the job step that was opened or closed. */
export type OpeningRow = typeof step_openings.$inferSelect & { job_id: string; access_step_id: string }
export type ClosingRow = typeof step_closings.$inferSelect & { job_id: string; access_step_id: string }
/** `removed_at` is NULL while the tool is in. */
export type ToolInRow = typeof tools_in.$inferSelect & { removed_at: number | null }
export type PartLineRow = typeof part_lines.$inferSelect & { part_number: string; part_name: string }

export function insertVoiding(tx: Tx, row: VoidingRow): void {
  tx.insert(job_voidings).values(row).run()
}

export function findVoidings(read: Read, orderId: string): VoidingRow[] {
  return read
    .select(getTableColumns(job_voidings))
    .from(job_voidings)
    .innerJoin(jobs, eq(jobs.id, job_voidings.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .all()
}

export function findVoiding(read: Read, jobId: string): VoidingRow | undefined {
  return read.select().from(job_voidings).where(eq(job_voidings.job_id, jobId)).get()
}

export function insertCompletion(tx: Tx, row: CompletionRow): void {
  tx.insert(job_completions).values(row).run()
}

export function findCompletions(read: Read, orderId: string): CompletionRow[] {
  return read
    .select(getTableColumns(job_completions))
    .from(job_completions)
    .innerJoin(jobs, eq(jobs.id, job_completions.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .all()
}

export function insertOpening(tx: Tx, row: typeof step_openings.$inferSelect): void {
  tx.insert(step_openings).values(row).run()
}

/** In the order in which they were written down; closings likewise. */
export function findOpenings(read: Read, orderId: string): OpeningRow[] {
  return read
    .select({
      ...getTableColumns(step_openings),
      job_id: job_steps.job_id,
      access_step_id: job_steps.access_step_id,
    })
    .from(step_openings)
    .innerJoin(job_steps, eq(job_steps.id, step_openings.job_step_id))
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .orderBy(asc(step_openings.id))
    .all()
}

export function insertClosingRow(tx: Tx, row: typeof step_closings.$inferSelect): void {
  tx.insert(step_closings).values(row).run()
}

export function findClosings(read: Read, orderId: string): ClosingRow[] {
  return read
    .select({
      ...getTableColumns(step_closings),
      job_id: job_steps.job_id,
      access_step_id: job_steps.access_step_id,
    })
    .from(step_closings)
    .innerJoin(job_steps, eq(job_steps.id, step_closings.job_step_id))
    .innerJoin(jobs, eq(jobs.id, job_steps.job_id))
    .where(eq(jobs.work_order_id, orderId))
    .orderBy(asc(step_closings.id))
    .all()
}

export function insertToolIn(tx: Tx, row: typeof tools_in.$inferSelect): void {
  tx.insert(tools_in).values(row).run()
}

export function insertRemoval(tx: Tx, row: RemovalRow): void {
  tx.insert(tool_removals).values(row).run()
}

export function findRemoval(read: Read, toolInId: string): RemovalRow | undefined {
  return read.select().from(tool_removals).where(eq(tool_removals.tool_in_id, toolInId)).get()
}

function tools(read: Read) {
  return read
    .select({ ...getTableColumns(tools_in), removed_at: tool_removals.at })
    .from(tools_in)
    .innerJoin(jobs, eq(jobs.id, tools_in.job_id))
    .leftJoin(tool_removals, eq(tool_removals.tool_in_id, tools_in.id))
}

export function findToolsIn(read: Read, orderId: string): ToolInRow[] {
  return tools(read).where(eq(jobs.work_order_id, orderId)).orderBy(asc(tools_in.id)).all()
}

export function findToolIn(read: Read, id: string): ToolInRow | undefined {
  return tools(read).where(eq(tools_in.id, id)).get()
}

export function insertPartLine(tx: Tx, row: typeof part_lines.$inferSelect): void {
  tx.insert(part_lines).values(row).run()
}

export function findPartLines(read: Read, orderId: string): PartLineRow[] {
  return read
    .select({ ...getTableColumns(part_lines), part_number: parts.number, part_name: parts.name })
    .from(part_lines)
    .innerJoin(jobs, eq(jobs.id, part_lines.job_id))
    .innerJoin(parts, eq(parts.id, part_lines.part_id))
    .where(eq(jobs.work_order_id, orderId))
    .orderBy(asc(part_lines.id))
    .all()
}
