import type Database from 'better-sqlite3'
import type { Context } from '../context.ts'
import { hot } from './hot.ts'
import { rowHash, setHash, sha256 } from './row-hash.ts'
import { forgetTouched, unrecordedRows } from './touched-rows.ts'
import type { Tx } from './types.ts'

/** What an event says: `action` as noun.verb-in-the-past ("joint.signed-off"), the record that it is about, and any detail worth keeping. */
export interface EventToRecord {
  action: string
  table: string
  id: string
  detail?: Record<string, unknown>
  /** A set table written by this event, with the id of its owner (see SET_TABLES). */
  set?: { table: string; column: string; owner: string }
}

export const GENESIS_HASH = '0'.repeat(64)

const newestLink = hot((raw: Database.Database) =>
  raw.prepare('select seq, hash from events order by seq desc limit 1'),
)

const insertEvent = hot((raw: Database.Database) =>
  raw.prepare(
    'insert into events (seq, at, actor_id, action, subject_table, subject_id, detail, previous_hash, hash) values (@seq, @at, @actor_id, @action, @subject_table, @subject_id, @detail, @previous_hash, @hash)',
  ),
)

const insertEventRow = hot((raw: Database.Database) =>
  raw.prepare('insert into event_rows (event_seq, table_name, row_id, row_sha256) values (?, ?, ?, ?)'),
)

/** The newest link of the chain: `{ seq: 0, hash: 000… }` before the first event. */
export function chainHead(raw: Database.Database): { seq: number; hash: string } {
  const head = newestLink(raw).get() as { seq: number; hash: string } | undefined
  return head ?? { seq: 0, hash: GENESIS_HASH }
}

const newestOver = hot((raw: Database.Database) =>
  raw.prepare(
    `select seq, hash, previous_hash, at from events where seq = (
       select max(event_seq) from json_each(?) wanted
       join event_rows on table_name = wanted.value ->> 0 and row_id = wanted.value ->> 1)`,
  ),
)

/** The newest link that covers any of these rows, with the hash of the one before it; undefined when none does. */
export function newestLinkOver(
  raw: Database.Database,
  rows: readonly { table: string; id: string }[],
): { seq: number; hash: string; previous_hash: string; at: number } | undefined {
  const wanted = JSON.stringify(rows.map(({ table, id }) => [table, id]))
  return newestOver(raw).get(wanted) as ReturnType<typeof newestLinkOver>
}

/** What an event's hash is taken over; `verify` takes it again. */
export function eventHash(event: {
  seq: number
  at: number
  actor_id: string | null
  action: string
  subject_table: string
  subject_id: string
  detail: string | null
  previous_hash: string
  rows: { table_name: string; row_id: string; row_sha256: string }[]
}): string {
  const rows = event.rows
    .map(row => [row.table_name, row.row_id, row.row_sha256])
    .sort((a, b) => (a.join('\n') < b.join('\n') ? -1 : 1))
  return sha256(
    JSON.stringify([
      event.seq,
      event.at,
      event.actor_id,
      event.action,
      event.subject_table,
      event.subject_id,
      event.detail,
      event.previous_hash,
      rows,
    ]),
  )
}

/**
 * Adds the audit event of a write to the chain. It covers every row touched since the event before it in the same
 * transaction; so a use case calls it once, last. Returns the new link.
 */
export function recordEvent(
  ctx: Pick<Context, 'store' | 'clock' | 'actor'>,
  _tx: Tx,
  what: EventToRecord,
): { seq: number; hash: string } {
  const { raw } = ctx.store
  const head = chainHead(raw)
  const rows = unrecordedRows(raw).map(({ table_name, row_id }) => {
    const row_sha256 = rowHash(raw, table_name, row_id)
    if (row_sha256 === null) throw new Error(`The row ${table_name} ${row_id} was touched and is gone`)
    return { table_name, row_id, row_sha256 }
  })
  if (what.set) {
    rows.push({
      table_name: what.set.table,
      row_id: what.set.owner,
      row_sha256: setHash(raw, what.set.table, what.set.column, what.set.owner),
    })
  }
  const event = {
    seq: head.seq + 1,
    at: ctx.clock.now(),
    actor_id: ctx.actor?.id ?? null,
    action: what.action,
    subject_table: what.table,
    subject_id: what.id,
    detail: what.detail === undefined ? null : JSON.stringify(what.detail),
    previous_hash: head.hash,
  }
  const hash = eventHash({ ...event, rows })
  insertEvent(raw).run({ ...event, hash })
  for (const row of rows) insertEventRow(raw).run(event.seq, row.table_name, row.row_id, row.row_sha256)
  forgetTouched(raw)
  return { seq: event.seq, hash }
}
