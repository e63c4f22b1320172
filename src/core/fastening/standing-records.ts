/**
 * The records that stand, in the order in which they count. Records are never changed: a correction supersedes one, and
 * takes its place in the order, since it tells what was done then and not something done later. A correction may itself be
 * corrected.
 *
 * @param records in order of recording.
 * @throws RangeError when a record supersedes one that is not in the list before it.
 */
export function standingRecords<T extends { id: string; supersedes_id: string | null }>(records: readonly T[]): T[] {
  const place = new Map<string, number>()
  const superseded = new Set<string>()
  for (const [at, record] of records.entries()) {
    const taken = record.supersedes_id === null ? at : place.get(record.supersedes_id)
    if (taken === undefined)
      throw new RangeError(`standingRecords requires ${record.supersedes_id} before ${record.id}`)
    if (record.supersedes_id !== null) superseded.add(record.supersedes_id)
    place.set(record.id, taken)
  }
  return records
    .filter(record => !superseded.has(record.id))
    .sort((one, other) => place.get(one.id)! - place.get(other.id)!)
}
