import { integer, primaryKey, sqliteTable, text, uniqueIndex } from 'drizzle-orm/sqlite-core'

/** The audit chain: one row for each write, holding the hash of the event before. Never changed (triggers). */
export const events = sqliteTable('events', {
  seq: integer('seq').primaryKey(),
  at: integer('at').notNull(),
  actor_id: text('actor_id'),
  action: text('action').notNull(),
  subject_table: text('subject_table').notNull(),
  subject_id: text('subject_id').notNull(),
  detail: text('detail'),
  previous_hash: text('previous_hash').notNull(),
  hash: text('hash').notNull(),
})

/** Which rows an event wrote, each with the SHA-256 of the row as it then stood. Without a rowid: its key is most of it. */
export const event_rows = sqliteTable(
  'event_rows',
  {
    event_seq: integer('event_seq')
      .notNull()
      .references(() => events.seq),
    table_name: text('table_name').notNull(),
    row_id: text('row_id').notNull(),
    row_sha256: text('row_sha256').notNull(),
  },
  table => [primaryKey({ columns: [table.table_name, table.row_id, table.event_seq] })],
)

/** Numbers without a gap: taken inside the transaction that uses them. */
export const counters = sqliteTable('counters', {
  id: text('id').primaryKey(),
  last_number: integer('last_number').notNull(),
})

/** The first answer to an Idempotency-Key, so that a repeat gets the same. Kept 30 days; ids are microseconds, to clear by. */
export const stored_answers = sqliteTable(
  'stored_answers',
  {
    id: integer('id').primaryKey(),
    person_id: text('person_id').notNull(),
    key: text('key').notNull(),
    request_sha256: text('request_sha256').notNull(),
    status: integer('status').notNull(),
    location: text('location'),
    etag: text('etag'),
    body: text('body'),
    created_at: integer('created_at').notNull(),
  },
  table => [uniqueIndex('stored_answers_key').on(table.person_id, table.key)],
)
