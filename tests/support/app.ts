import { Writable } from 'node:stream'
import type { FastifyInstance } from 'fastify'
import pino, { type Logger } from 'pino'
import { afterAll, afterEach, expect } from 'vitest'
import { createToken, openSession } from '../../src/accounts/index.ts'
import { addPersonWith } from '../../src/accounts/service.ts'
import { faceOf } from '../../src/app.ts'
import { ROLES, type Role } from '../../src/core/vocabulary.ts'
import { type HandClock, handClock } from '../../src/platform/clock.ts'
import { type Context, contextFor, type Deps } from '../../src/platform/context.ts'
import type { Store } from '../../src/platform/database/open.ts'
import { buildServer, type Face, readTemplates, type Templates } from '../../src/platform/http/server.ts'
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

/** Compiling them takes longer than the rest of a start, so they are read once for the run. */
let templates: Templates | undefined

export interface TestAppOptions {
  /** Left out: an empty one of the test's own. */
  store?: Store
  nowMs?: number
  /** Routes besides those of the program, for a test of the plumbing. */
  extra?: Partial<Pick<Face, 'apis' | 'pages'>>
}

interface Built {
  app: FastifyInstance
  deps: Deps & { clock: HandClock }
  errors: LogLine[]
}

async function build(store: Store, nowMs: number, extra: TestAppOptions['extra'] = {}): Promise<Built> {
  const clock = handClock(nowMs)
  const errors: LogLine[] = []
  const deps = { store, clock, ids: countedIds(clock), log: listeningLog(errors) }
  templates ??= readTemplates(false)
  const face = faceOf(deps, templates)
  const app = await buildServer(deps, {
    ...face,
    apis: [...face.apis, ...(extra.apis ?? [])],
    pages: [...face.pages, ...(extra.pages ?? [])],
  })
  await app.ready()
  return { app, deps, errors }
}

/** The program as a test sees it: with an API token of each role in its present database. */
function withTokens({ app, deps, errors }: Built): TestApp {
  const { store, clock } = deps
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

/** The real program, built for one test (or for one `beforeAll`, with a store of its own). Close it. */
export async function testApp({
  store = memoryStore(),
  nowMs = TEST_NOW,
  extra,
}: TestAppOptions = {}): Promise<TestApp> {
  return withTokens(await build(store, nowMs, extra))
}

/** With a password that nothing matches: tests open the session directly, since a real password takes a fifth of a second. */
function personWhoSignsIn(system: Context, name: string, role: Role): string {
  const known = system.store.raw.prepare('select id from people where name = ?').pluck().get(name) as string | undefined
  return (
    known ??
    addPersonWith(system, { name, role }, { password: '', scrypt: 'scrypt$1$1$1$none$AAAA', one_time: false }).id
  )
}

/**
 * For each test the real program on an empty database of the test's own. The program is built once for the file, since that
 * takes longer than most tests; clock, ids and database are new each time. A line at level error fails the test.
 */
export function eachTestItsApp({
  nowMs = TEST_NOW,
  extra,
}: Omit<TestAppOptions, 'store'> = {}): () => Promise<TestApp> {
  let built: Promise<Built> | undefined
  let current: TestApp | undefined
  afterEach(() => {
    const errors = current?.errors.splice(0) ?? []
    current = undefined
    expect(errors, 'lines at level error in the log').toEqual([])
  })
  afterAll(async () => {
    await (await built)?.app.close()
    built = undefined
  })
  return async () => {
    if (current !== undefined) return current
    const store = memoryStore()
    built ??= build(store, nowMs, extra)
    const { deps, ...rest } = await built
    deps.clock.set(nowMs)
    current = withTokens({ ...rest, deps: Object.assign(deps, { store, ids: countedIds(deps.clock) }) })
    return current
  }
}
