import { and, asc, eq, gt, isNull, lt, ne, sql } from 'drizzle-orm'
import type { Role } from '../core/vocabulary.ts'
import { hot, idList, isAmong } from '../platform/database/hot.ts'
import type { Read, Tx } from '../platform/database/types.ts'
import { api_tokens, passwords, people, sessions, settings, setup_links } from './schema.ts'

export type PersonRow = typeof people.$inferSelect
export type PasswordRow = typeof passwords.$inferSelect
export type SettingsRow = typeof settings.$inferSelect

const namesOfAll = hot((read: Read) => read.select({ id: people.id, name: people.name }).from(people).prepare())

export function allNames(read: Read): Map<string, string> {
  return new Map(
    namesOfAll(read)
      .all()
      .map(({ id, name }) => [id, name]),
  )
}

export function findPersonByName(read: Read, name: string): PersonRow | undefined {
  return read.select().from(people).where(eq(people.name, name)).get()
}

/** People whose id comes after `cursor`, oldest first. */
export function listPeople(read: Read, limit: number, cursor: string | null): PersonRow[] {
  return read
    .select()
    .from(people)
    .where(cursor === null ? undefined : gt(people.id, cursor))
    .orderBy(asc(people.id))
    .limit(limit)
    .all()
}

const personsWithRole = hot((read: Read) =>
  read
    .select({ id: people.id, name: people.name })
    .from(people)
    .where(and(eq(people.kind, 'person'), isAmong(people.role, 'roles')))
    .orderBy(asc(people.name))
    .prepare(),
)

export function listPeopleWithRole(read: Read, roles: Role[]): { id: string; name: string }[] {
  return personsWithRole(read).all({ roles: idList(roles) })
}

export function hasPersonWhoLogsIn(read: Read): boolean {
  return read.select({ id: people.id }).from(people).where(eq(people.kind, 'person')).limit(1).get() !== undefined
}

export function insertPerson(tx: Tx, row: PersonRow): void {
  tx.insert(people).values(row).run()
}

export function findPassword(read: Read, personId: string): PasswordRow | undefined {
  return read.select().from(passwords).where(eq(passwords.id, personId)).get()
}

export function putPassword(tx: Tx, row: PasswordRow): void {
  const { id: _, ...changed } = row
  tx.insert(passwords).values(row).onConflictDoUpdate({ target: passwords.id, set: changed }).run()
}

export function insertSession(tx: Tx, row: typeof sessions.$inferInsert): void {
  tx.insert(sessions).values(row).run()
}

const runningSession = hot((read: Read) =>
  read
    .select({
      id: sessions.id,
      notice: sessions.notice,
      person_id: people.id,
      name: people.name,
      role: people.role,
      one_time: passwords.one_time,
    })
    .from(sessions)
    .innerJoin(people, eq(people.id, sessions.person_id))
    .innerJoin(passwords, eq(passwords.id, people.id))
    .where(and(eq(sessions.id, sql.placeholder('id')), gt(sessions.expires_at, sql.placeholder('now'))))
    .prepare(),
)

/** The session with its person, unless it has run out. */
export function findSession(read: Read, id: string, nowMs: number) {
  return runningSession(read).get({ id, now: nowMs })
}

export function setNotice(tx: Tx, sessionId: string, notice: string | null): void {
  tx.update(sessions).set({ notice }).where(eq(sessions.id, sessionId)).run()
}

export function deleteSession(tx: Tx, id: string): void {
  tx.delete(sessions).where(eq(sessions.id, id)).run()
}

/** Every session of a person but one: after a new password nobody stays in with the old one. */
export function deleteOtherSessions(tx: Tx, personId: string, kept: string | null): void {
  tx.delete(sessions)
    .where(and(eq(sessions.person_id, personId), kept === null ? undefined : ne(sessions.id, kept)))
    .run()
}

export function deleteExpiredSessions(tx: Tx, nowMs: number): void {
  tx.delete(sessions).where(lt(sessions.expires_at, nowMs)).run()
}

export function insertToken(tx: Tx, row: typeof api_tokens.$inferInsert): void {
  tx.insert(api_tokens).values(row).run()
}

const personOfToken = hot((read: Read) =>
  read
    .select({ id: people.id, name: people.name, role: people.role })
    .from(api_tokens)
    .innerJoin(people, eq(people.id, api_tokens.person_id))
    .where(eq(api_tokens.id, sql.placeholder('id')))
    .prepare(),
)

export function findTokenPerson(read: Read, id: string) {
  return personOfToken(read).get({ id })
}

export function replaceSetupLink(tx: Tx, row: typeof setup_links.$inferInsert): void {
  tx.delete(setup_links).where(isNull(setup_links.used_at)).run()
  tx.insert(setup_links).values(row).run()
}

export function findOpenSetupLink(read: Read, id: string): { id: string } | undefined {
  return read
    .select({ id: setup_links.id })
    .from(setup_links)
    .where(and(eq(setup_links.id, id), isNull(setup_links.used_at)))
    .get()
}

export function useSetupLink(tx: Tx, id: string, nowMs: number): void {
  tx.update(setup_links).set({ used_at: nowMs }).where(eq(setup_links.id, id)).run()
}

const theSettings = hot((read: Read) => read.select().from(settings).where(eq(settings.id, 'workshop')).prepare())

export function findSettings(read: Read): SettingsRow | undefined {
  return theSettings(read).get()
}

export function putSettings(tx: Tx, row: SettingsRow): void {
  const { id: _, created_at: _at, created_by: _by, ...changed } = row
  tx.insert(settings).values(row).onConflictDoUpdate({ target: settings.id, set: changed }).run()
}
