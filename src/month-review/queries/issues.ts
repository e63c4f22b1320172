import { eq } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { month_issues } from '../schema.ts'

export type MonthIssueRow = typeof month_issues.$inferSelect

export function insertIssue(tx: Tx, row: MonthIssueRow): void {
  tx.insert(month_issues).values(row).run()
}

export function issueOf(read: Read, month: string): MonthIssueRow | undefined {
  return read.select().from(month_issues).where(eq(month_issues.month, month)).get()
}

/** Every month that was issued. */
export function allIssues(read: Read): MonthIssueRow[] {
  return read.select().from(month_issues).all()
}
