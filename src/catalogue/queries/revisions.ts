import { asc, desc, eq, max, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { procedure_revisions } from '../schema.ts'

export type RevisionRow = typeof procedure_revisions.$inferSelect

export const insertRevision = hotInsert(procedure_revisions)

const revisionOfId = hot((read: Read) =>
  read
    .select()
    .from(procedure_revisions)
    .where(eq(procedure_revisions.id, sql.placeholder('id')))
    .prepare(),
)

export function revisionById(read: Read, id: string): RevisionRow | undefined {
  return revisionOfId(read).get({ id })
}

const allRevisions = hot((read: Read) =>
  read
    .select()
    .from(procedure_revisions)
    .where(eq(procedure_revisions.procedure_id, sql.placeholder('procedureId')))
    .orderBy(asc(procedure_revisions.revision))
    .prepare(),
)

/** Oldest first. */
export function revisionsOf(read: Read, procedureId: string): RevisionRow[] {
  return allRevisions(read).all({ procedureId })
}

const newestRevision = hot((read: Read) =>
  read
    .select()
    .from(procedure_revisions)
    .where(eq(procedure_revisions.procedure_id, sql.placeholder('procedureId')))
    .orderBy(desc(procedure_revisions.revision))
    .prepare(),
)

export function latestRevisionOf(read: Read, procedureId: string): RevisionRow | undefined {
  return newestRevision(read).get({ procedureId })
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
