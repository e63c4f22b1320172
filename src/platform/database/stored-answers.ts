import { and, eq, lt, sql } from 'drizzle-orm'
import type { Context } from '../context.ts'
import { hot } from './hot.ts'
import { stored_answers } from './schema.ts'
import type { Read, Tx } from './types.ts'

/** The first answer to an Idempotency-Key, word for word. */
export interface StoredAnswer {
  request_sha256: string
  status: number
  location: string | null
  etag: string | null
  body: string | null
}

const KEPT_MS = 30 * 24 * 60 * 60 * 1000

const answerToKey = hot((read: Read) =>
  read
    .select({
      request_sha256: stored_answers.request_sha256,
      status: stored_answers.status,
      location: stored_answers.location,
      etag: stored_answers.etag,
      body: stored_answers.body,
    })
    .from(stored_answers)
    .where(
      and(eq(stored_answers.person_id, sql.placeholder('personId')), eq(stored_answers.key, sql.placeholder('key'))),
    )
    .prepare(),
)

export function findStoredAnswer(read: Read, personId: string, key: string): StoredAnswer | undefined {
  return answerToKey(read).get({ personId, key })
}

const forgetBefore = hot((tx: Tx) =>
  tx
    .delete(stored_answers)
    .where(lt(stored_answers.id, sql.placeholder('id')))
    .prepare(),
)

/** Ids are the microsecond, or the next that is free: clearing what is old is then one short range of the table itself. */
const insertAnswer = hot((tx: Tx) =>
  tx
    .insert(stored_answers)
    .values({
      id: sql`max(${sql.placeholder('from_id')}, (select coalesce(max(id), 0) + 1 from stored_answers))`,
      person_id: sql.placeholder('person_id'),
      key: sql.placeholder('key'),
      request_sha256: sql.placeholder('request_sha256'),
      status: sql.placeholder('status'),
      location: sql.placeholder('location'),
      etag: sql.placeholder('etag'),
      body: sql.placeholder('body'),
      created_at: sql.placeholder('created_at'),
    })
    .prepare(),
)

/** Keeps an answer for 30 days, and clears those that are older. */
export function keepAnswer(
  ctx: Pick<Context, 'clock'>,
  tx: Tx,
  personId: string,
  key: string,
  answer: StoredAnswer,
): void {
  const now = ctx.clock.now()
  forgetBefore(tx).run({ id: (now - KEPT_MS) * 1000 })
  insertAnswer(tx).run({ from_id: now * 1000, person_id: personId, key, created_at: now, ...answer })
}

/** Takes the words out of every answer that names one of these ids, when a person is erased. A repeat gets the status alone. */
export function emptyAnswersAbout(tx: Tx, ids: readonly string[]): void {
  for (const id of ids)
    tx.update(stored_answers).set({ body: null }).where(sql`instr(${stored_answers.body}, ${id}) > 0`).run()
}
