import { and, asc, desc, eq, sql } from 'drizzle-orm'
import { hot, hotInsert } from '../../platform/database/hot.ts'
import { sameText } from '../../platform/database/same-text.ts'
import type { Read } from '../../platform/database/types.ts'
import { batch_faults, parts } from '../schema.ts'

export type BatchFaultRow = typeof batch_faults.$inferSelect

export const insertBatchFault = hotInsert(batch_faults)

/** Oldest first. */
export function batchFaultRows(read: Read, partId: string): BatchFaultRow[] {
  return read.select().from(batch_faults).where(eq(batch_faults.part_id, partId)).orderBy(asc(batch_faults.id)).all()
}

const faultsOfBatch = hot((read: Read) =>
  read
    .select()
    .from(batch_faults)
    .where(
      and(
        eq(batch_faults.part_id, sql.placeholder('partId')),
        sameText(batch_faults.batch, sql`${sql.placeholder('batch')}`),
      ),
    )
    .orderBy(asc(batch_faults.id))
    .prepare(),
)

/** What was said first against one batch of a part. */
export function firstFaultOfBatch(read: Read, partId: string, batch: string): BatchFaultRow | undefined {
  return faultsOfBatch(read).get({ partId, batch })
}

/** Of every part, the newest first. */
export function allBatchFaultRows(read: Read) {
  return read
    .select({ fault: batch_faults, part_number: parts.number, part_name: parts.name })
    .from(batch_faults)
    .innerJoin(parts, eq(parts.id, batch_faults.part_id))
    .orderBy(desc(batch_faults.id))
    .all()
}
