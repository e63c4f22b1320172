import { Writable } from 'node:stream'
import type { FastifyInstance } from 'fastify'
import pino, { type Logger } from 'pino'
import { afterEach, expect } from 'vitest'
import { createToken, openSession } from '../../src/accounts/index.ts'
import { addPersonWith } from '../../src/accounts/service.ts'
import { faceOf } from '../../src/app.ts'
import { ROLES, type Role } from '../../src/core/vocabulary.ts'
import { type HandClock, handClock } from '../../src/platform/clock.ts'
import { type Context, contextFor, type Deps } from '../../src/platform/context.ts'
import type { Store } from '../../src/platform/database/open.ts'
import { buildServer, type Face } from '../../src/platform/http/server.ts'
import { countedIds } from '../../src/platform/ids.ts'
import { memoryStore, TEST_NOW } from './database.ts'

export interface LogLine {
  level: number
  msg: string
  err?: { message: string; stack: string }
}

export interface TestApp {
  app: FastifyInstance
  deps: Deps
  clock: HandClock
  /** An API token of each role; its person is called '<role> token'. */
  tokens: Record<Role, string>
  /** The command line: may do all, signs nothing. */
  system: Context
  /** The person of the role's token, for calling services. */
  as(role: Role): Context
  /** The Cookie header of a new session of somebody with this role. */
  cookie(role: Role, name?: string): string
  /** Lines at level error. A test that expects some takes them out: `errors.splice(0)`. */
  errors: LogLine[]
  eventCount(): number
  close(): Promise<void>
}

/** A logger that keeps what went wrong and says nothing. */
function listeningLog(errors: LogLine[]): Logger {
  const sink = new Writable({
    write(chunk: Buffer, _encoding, done) {
      errors.push(JSON.parse(chunk.toString()) as LogLine)
      done()
    },
  })
  return pino({ level: 'error' }, sink)
}

export interface TestAppOptions {
  /** Left out: an empty one of the test's own. */
  store?: Store
  nowMs?: number
  /** Routes besides those of the program, for a test of the plumbing. */
  extra?: Partial<Pick<Face, 'apis' | 'pages'>>
}

/** The real program, with an API token of each role. */
export async function testApp({
  store = memoryStore(),
  nowMs = TEST_NOW,
  extra = {},
}: TestAppOptions = {}): Promise<TestApp> {
  const clock = handClock(nowMs)
  const errors: LogLine[] = []
  const deps = { store, clock, ids: countedIds(clock), log: listeningLog(errors) }
  const face = faceOf(deps)
  const app = await buildServer(deps, {
    ...face,
    apis: [...face.apis, ...(extra.apis ?? [])],
    pages: [...face.pages, ...(extra.pages ?? [])],
  })
  await app.ready()
  const system = contextFor(deps, null)
  const made = ROLES.map(role => ({ role, ...createToken(system, { name: `${role} token`, role }) }))
  const contexts = new Map(
    made.map(({ role, person }) => [role, contextFor(deps, { id: person.id, name: person.name, role })]),
  )
  return {
    app,
    deps,
    clock,
    tokens: Object.fromEntries(made.map(({ role, token }) => [role, token])) as Record<Role, string>,
    system,
    as: role => contexts.get(role) ?? system,
    cookie: (role, name = `${role} person`) =>
      `witness_mark=${openSession(system, personWhoSignsIn(system, name, role))}`,
    errors,
    eventCount: () => store.raw.prepare('select count(*) from events').pluck().get() as number,
    close: () => app.close(),
  }
}

/** With a password that nothing matches: tests open the session directly, since a real password takes a fifth of a second. */
function personWhoSignsIn(system: Context, name: string, role: Role): string {
  const known = system.store.raw.prepare('select id from people where name = ?').pluck().get(name) as string | undefined
  return (
    known ??
    addPersonWith(system, { name, role }, { password: '', scrypt: 'scrypt$1$1$1$none$AAAA', one_time: false }).id
  )
}

/** One program for each test, built when the test first asks and closed after it; a line at level error fails the test. */
export function eachTestItsApp(options: TestAppOptions = {}): () => Promise<TestApp> {
  let current: Promise<TestApp> | undefined
  afterEach(async () => {
    const used = await current
    current = undefined
    await used?.close()
    expect(used?.errors ?? [], 'lines at level error in the log').toEqual([])
  })
  return () => {
    current ??= testApp(options)
    return current
  }
}
