import { and, eq, lt, sql } from 'drizzle-orm'
import type { Context } from '../context.ts'
import { hot, hotInsert } from './hot.ts'
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

/** Ids begin with the time, so that clearing old ones is one short range of the index. */
function idFrom(ms: number): string {
  return String(ms).padStart(16, '0')
}

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

const insertAnswer = hotInsert(stored_answers)

/** Keeps an answer for 30 days, and clears those that are older. */
export function keepAnswer(
  ctx: Pick<Context, 'clock' | 'ids'>,
  tx: Tx,
  personId: string,
  key: string,
  answer: StoredAnswer,
): void {
  const now = ctx.clock.now()
  forgetBefore(tx).run({ id: idFrom(now - KEPT_MS) })
  insertAnswer(tx, { id: `${idFrom(now)}-${ctx.ids.next()}`, person_id: personId, key, created_at: now, ...answer })
}

/** Takes the words out of every answer that names one of these ids, when a person is erased. A repeat gets the status alone. */
export function emptyAnswersAbout(tx: Tx, ids: readonly string[]): void {
  for (const id of ids)
    tx.update(stored_answers).set({ body: null }).where(sql`instr(${stored_answers.body}, ${id}) > 0`).run()
}
