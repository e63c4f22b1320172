import { asc, desc, eq, inArray, max } from 'drizzle-orm'
import type { Read, Tx } from '../../platform/database/types.ts'
import { procedure_revisions } from '../schema.ts'

export type RevisionRow = typeof procedure_revisions.$inferSelect

export function insertRevision(tx: Tx, row: RevisionRow): void {
  tx.insert(procedure_revisions).values(row).run()
}

export function revisionById(read: Read, id: string): RevisionRow | undefined {
  return read.select().from(procedure_revisions).where(eq(procedure_revisions.id, id)).get()
}

export function revisionsByIds(read: Read, ids: readonly string[]): RevisionRow[] {
  if (ids.length === 0) return []
  return read
    .select()
    .from(procedure_revisions)
    .where(inArray(procedure_revisions.id, [...new Set(ids)]))
    .all()
}

/** Oldest first. */
export function revisionsOf(read: Read, procedureId: string): RevisionRow[] {
  return read
    .select()
    .from(procedure_revisions)
    .where(eq(procedure_revisions.procedure_id, procedureId))
    .orderBy(asc(procedure_revisions.revision))
    .all()
}

export function latestRevisionOf(read: Read, procedureId: string): RevisionRow | undefined {
  return read
    .select()
    .from(procedure_revisions)
    .where(eq(procedure_revisions.procedure_id, procedureId))
    .orderBy(desc(procedure_revisions.revision))
    .limit(1)
    .get()
}

/** The number of the newest revision of each procedure that has one. */
export function newestNumbers(read: Read): Map<string, number> {
  const rows = read
    .select({ id: procedure_revisions.procedure_id, revision: max(procedure_revisions.revision) })
    .from(procedure_revisions)
    .groupBy(procedure_revisions.procedure_id)
    .all()
  return new Map(rows.map(row => [row.id, row.revision ?? 0]))
}
