import type Database from 'better-sqlite3'
import { chainHead, eventHash, GENESIS_HASH } from './events.ts'
import type { Expected, Fault } from './verify-faults.ts'

type RecordedEvent = Parameters<typeof eventHash>[0] & { hash: string }
type EventRow = RecordedEvent['rows'][number]
type Joined = Omit<RecordedEvent, 'rows'> & { [name in keyof EventRow]: EventRow[name] | null }

const EVENTS_AND_ROWS = `
  select e.seq, e.at, e.actor_id, e.action, e.subject_table, e.subject_id, e.detail, e.previous_hash, e.hash,
    r.table_name, r.row_id, r.row_sha256
  from events e left join event_rows r on r.event_seq = e.seq
  order by e.seq`

/** The events from the first, each with the rows that it covers. */
function* recordedEvents(raw: Database.Database): Generator<RecordedEvent> {
  let current: RecordedEvent | undefined
  for (const { table_name, row_id, row_sha256, ...event } of raw
    .prepare(EVENTS_AND_ROWS)
    .iterate() as Iterable<Joined>) {
    if (current?.seq !== event.seq) {
      if (current) yield current
      current = { ...event, rows: [] }
    }
    if (table_name !== null && row_id !== null && row_sha256 !== null)
      current.rows.push({ table_name, row_id, row_sha256 })
  }
  if (current) yield current
}

/** What is wrong with one link, seen from the one before it. */
function linkFault(event: RecordedEvent, before: Expected): string | null {
  const wanted = before.seq + 1
  if (event.seq > wanted + 1) return `Events ${wanted} to ${event.seq - 1} are missing.`
  if (event.seq !== wanted) return `Event ${wanted} is missing.`
  if (event.previous_hash !== before.hash) return `Event ${event.seq} does not continue event ${before.seq}.`
  if (event.hash !== eventHash(event)) {
    return `Event ${event.seq} (${event.action}), or the list of rows that it covers, has been changed.`
  }
  return null
}

function strayFaults(raw: Database.Database): Fault[] {
  const stray = raw.prepare(
    'select distinct event_seq from event_rows where event_seq not in (select seq from events) order by 1',
  )
  return stray
    .pluck()
    .all()
    .map(seq => ({ kind: 'chain', says: `Rows are listed under event ${seq}, which is not there.` }))
}

function tailFaults(raw: Database.Database, expected: Expected): Fault[] {
  const hash = raw.prepare('select hash from events where seq = ?').pluck().get(expected.seq)
  if (hash === expected.hash) return []
  if (hash === undefined) {
    const last = chainHead(raw).seq
    return [{ kind: 'tail', says: `The chain ends at event ${last}; event ${expected.seq} was there and is gone.` }]
  }
  const says = `Event ${expected.seq} is not the one expected: its hash is ${hash}. The chain has been written again.`
  return [{ kind: 'tail', says }]
}

/** The chain of events from its first link: numbers without a gap, each naming the hash before it, each hash taken again. */
export function verifyChain(raw: Database.Database, expected?: Expected): Fault[] {
  const faults: Fault[] = []
  let before: Expected = { seq: 0, hash: GENESIS_HASH }
  for (const event of recordedEvents(raw)) {
    const says = linkFault(event, before)
    if (says !== null) faults.push({ kind: 'chain', says })
    before = event
  }
  return [...faults, ...strayFaults(raw), ...(expected === undefined ? [] : tailFaults(raw, expected))]
}
