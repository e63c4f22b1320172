import { asc, eq } from 'drizzle-orm'
import { hotInsert } from '../../platform/database/hot.ts'
import type { Read } from '../../platform/database/types.ts'
import { calibrations, doubted_since } from '../schema.ts'

export type DoubtedSinceRow = typeof doubted_since.$inferSelect

export const insertDoubtedSince = hotInsert(doubted_since)

export function calibrationRow(read: Read, id: string) {
  return read.select().from(calibrations).where(eq(calibrations.id, id)).get()
}

/** Oldest first: the newest counts. */
export function doubtedSinceRows(read: Read, calibrationId: string): DoubtedSinceRow[] {
  return read
    .select()
    .from(doubted_since)
    .where(eq(doubted_since.calibration_id, calibrationId))
    .orderBy(asc(doubted_since.created_at), asc(doubted_since.id))
    .all()
}
