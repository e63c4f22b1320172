import type { Role } from '../core/vocabulary.ts'
import { type Actor, authorise, type Context } from '../platform/context.ts'
import { recordEvent } from '../platform/database/events.ts'
import type { Tx } from '../platform/database/types.ts'
import { write } from '../platform/database/unit-of-work.ts'
import { notFound, problem } from '../platform/problems.ts'
import { newRecord } from '../platform/records.ts'
import { newSecret, secretDigest } from '../platform/secrets.ts'
import { toInstant } from '../platform/wire.ts'
import type { LoginInput, Person, PersonInput, SetupInput } from './contract.ts'
import {
  allNames,
  deleteExpiredSessions,
  deleteOtherSessions,
  deleteSession,
  findOpenSetupLink,
  findPassword,
  findPersonByName,
  findSession,
  findTokenPerson,
  hasPersonWhoLogsIn,
  insertPerson,
  insertSession,
  insertToken,
  listPeople,
  listPeopleWithRole,
  type PersonRow,
  putPassword,
  replaceSetupLink,
  setNotice,
  useSetupLink,
} from './queries.ts'
import { hashPassword, isPassword, newOneTimePassword } from './service/passwords.ts'

const SESSION_MS = 30 * 24 * 60 * 60 * 1000

function toWire(row: PersonRow): Person {
  return { ...row, created_at: toInstant(row.created_at) }
}

/** People and tokens, oldest first. Owner. */
export function listAccounts(ctx: Context, limit: number, cursor: string | null): Person[] {
  authorise(ctx)
  return listPeople(ctx.read, limit, cursor).map(toWire)
}

/**
 * Adds a person with a one-time password, which is returned once and must be changed at the first login; or, for the demo
 * workshop, with a password that is theirs at once. Owner, or the command line. 409 `name-taken`.
 */
export async function addPerson(
  ctx: Context,
  input: PersonInput,
  own?: string,
): Promise<{ person: Person; password: string }> {
  authorise(ctx)
  const prepared = await preparePassword(own)
  return { person: addPersonWith(ctx, input, prepared), password: prepared.password }
}

interface PreparedPassword {
  password: string
  scrypt: string
  one_time: boolean
}

/** The slow half of `addPerson`, which must not run inside a transaction. */
export async function preparePassword(own?: string): Promise<PreparedPassword> {
  const password = own ?? newOneTimePassword()
  return { password, scrypt: await hashPassword(password), one_time: own === undefined }
}

/** The half of `addPerson` that writes. */
export function addPersonWith(ctx: Context, input: PersonInput, prepared: PreparedPassword): Person {
  authorise(ctx)
  return write(ctx, tx => insertWithPassword(ctx, tx, input, prepared))
}

/** People who log in with one of these roles, by name. */
export function peopleWithRole(ctx: Pick<Context, 'read'>, roles: Role[]): { id: string; name: string }[] {
  return listPeopleWithRole(ctx.read, roles)
}

/** The names of everybody who ever signed something, by id. */
export function namesOfPeople(ctx: Pick<Context, 'read'>): Map<string, string> {
  return allNames(ctx.read)
}

function insertWithPassword(ctx: Context, tx: Tx, input: PersonInput, { scrypt, one_time }: PreparedPassword): Person {
  refuseTakenName(ctx, input.name)
  const row = newPerson(ctx, input, 'person')
  insertPerson(tx, row)
  putPassword(tx, { id: row.id, scrypt, one_time, set_at: row.created_at })
  recordEvent(ctx, tx, { action: 'person.added', table: 'people', id: row.id })
  return toWire(row)
}

function newPerson(ctx: Context, input: PersonInput, kind: PersonRow['kind']): PersonRow {
  return { ...newRecord(ctx), ...input, kind }
}

function freeName(ctx: Context, name: string): string {
  let free = name
  for (let number = 2; findPersonByName(ctx.read, free) !== undefined; number++) free = `${name} ${number}`
  return free
}

function refuseTakenName(ctx: Context, name: string): void {
  if (findPersonByName(ctx.read, name) === undefined) return
  const detail = `There is already somebody called ${name}: a name stands under what was signed, so each is given once.`
  throw problem('name-taken', { detail, errors: [{ pointer: '/name', detail, code: 'taken' }] })
}

/** A new one-time password for somebody who lost theirs; their sessions end. 404 for a name that nobody has. */
export async function resetPassword(ctx: Context, name: string): Promise<{ password: string }> {
  authorise(ctx)
  const person = findPersonByName(ctx.read, name)
  if (person === undefined || person.kind !== 'person') throw notFound('person', name)
  const password = newOneTimePassword()
  await keepPassword(ctx, person.id, password, true, null)
  return { password }
}

/** Somebody's own new password; their other sessions end. */
export async function changePassword(ctx: Context, password: string, session: string | null): Promise<void> {
  if (ctx.actor === null)
    throw problem('not-signed-in', { detail: 'Only somebody who is signed in has a password to change.' })
  await keepPassword(ctx, ctx.actor.id, password, false, session)
}

async function keepPassword(
  ctx: Context,
  id: string,
  password: string,
  one_time: boolean,
  session: string | null,
): Promise<void> {
  const scrypt = await hashPassword(password)
  write(ctx, tx => {
    putPassword(tx, { id, scrypt, one_time, set_at: ctx.clock.now() })
    deleteOtherSessions(tx, id, session)
    recordEvent(ctx, tx, { action: one_time ? 'password.reset' : 'password.changed', table: 'passwords', id })
  })
}

/**
 * A token of the API, a person of its own; only its digest is kept. Its name is free text: one that somebody has already
 * gets a number behind it, since a name stands under what was signed. Owner, or the command line.
 */
export function createToken(ctx: Context, input: PersonInput): { person: Person; token: string } {
  authorise(ctx)
  const token = `wm_${newSecret()}`
  const person = write(ctx, tx => {
    const row = newPerson(ctx, { ...input, name: freeName(ctx, input.name) }, 'token')
    insertPerson(tx, row)
    insertToken(tx, { id: secretDigest(token), person_id: row.id, created_at: row.created_at })
    recordEvent(ctx, tx, { action: 'token.created', table: 'people', id: row.id })
    return toWire(row)
  })
  return { person, token }
}

export function actorOfToken(ctx: Pick<Context, 'read'>, token: string): Actor | null {
  return findTokenPerson(ctx.read, secretDigest(token)) ?? null
}

/** Who is signed in with a cookie's secret; null when it is unknown or has run out. */
export function sessionOf(ctx: Pick<Context, 'read' | 'clock'>, secret: string) {
  const row = findSession(ctx.read, secretDigest(secret), ctx.clock.now())
  if (row === undefined) return null
  const actor: Actor = { id: row.person_id, name: row.name, role: row.role }
  return { id: row.id, actor, must_change_password: row.one_time, notice: row.notice }
}

/** The secret of a new session, or null when name or password is wrong: which of the two is not said. */
export async function logIn(ctx: Context, input: LoginInput): Promise<{ secret: string; role: Role } | null> {
  const person = findPersonByName(ctx.read, input.name.trim())
  const kept = person === undefined ? undefined : findPassword(ctx.read, person.id)
  const isRight = await isPassword(input.password, kept?.scrypt)
  return isRight && person !== undefined ? { secret: openSession(ctx, person.id), role: person.role } : null
}

/** Opens a session without a password: after the set-up link, and in tests. */
export function openSession(ctx: Context, personId: string): string {
  const secret = newSecret()
  const now = ctx.clock.now()
  write(ctx, tx => {
    deleteExpiredSessions(tx, now)
    insertSession(tx, { id: secretDigest(secret), person_id: personId, created_at: now, expires_at: now + SESSION_MS })
  })
  return secret
}

export function logOut(ctx: Context, session: string): void {
  write(ctx, tx => deleteSession(tx, session))
}

/** Leaves a sentence for the next page of a session, or takes it away once it was said. */
export function putNotice(_ctx: Context, tx: Tx, session: string, notice: string | null): void {
  setNotice(tx, session, notice)
}

/** The secret of a one-time link `/setup/<secret>` while nobody logs in yet, null afterwards. An earlier link ends. */
export function createSetupLink(ctx: Context): string | null {
  if (hasPersonWhoLogsIn(ctx.read)) return null
  const secret = newSecret(24)
  write(ctx, tx => replaceSetupLink(tx, { id: secretDigest(secret), created_at: ctx.clock.now() }))
  return secret
}

export function isSetupLink(ctx: Pick<Context, 'read'>, secret: string): boolean {
  return !hasPersonWhoLogsIn(ctx.read) && findOpenSetupLink(ctx.read, secretDigest(secret)) !== undefined
}

/** The first owner, by the set-up link, signed in at once. 404 when the link is used or unknown. */
export async function setUpOwner(ctx: Context, secret: string, input: SetupInput): Promise<string> {
  const prepared = await preparePassword(input.password)
  const owner = write(ctx, tx => {
    if (!isSetupLink(ctx, secret))
      throw problem('not-found', { detail: 'This set-up link has been used, or was never given out.' })
    useSetupLink(tx, secretDigest(secret), ctx.clock.now())
    return insertWithPassword(ctx, tx, { name: input.name, role: 'owner' }, prepared)
  })
  return openSession(ctx, owner.id)
}
