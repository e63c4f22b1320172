import Database from 'better-sqlite3'
import { drizzle } from 'drizzle-orm/better-sqlite3'
import { openSession } from '../../src/accounts/index.ts'
import { buildApp } from '../../src/app.ts'
import { contextFor, type Deps } from '../../src/platform/context.ts'
import { bareServer, listening } from './bare-server.ts'
import type { Asked, Client } from './client.ts'
import { byTurns, type Measure, rates } from './measure.ts'
import { type Ran, watched } from './watched.ts'

const ROUNDS = 9
const REQUESTS_A_ROUND = 60
/** A server runs for months: what V8 makes of the code in its first seconds says little. */
const WARM_UP = 2000
const AT_ONCE = 4
const GOAL = 0.4

/** What answering one address takes: the statements as they ran, and the page. */
interface Seen {
  path: string
  statements: Ran[]
  html: string
}

const PAGES = [
  {
    name: 'vehicle page',
    // spread over all that were ever here: from one visit to twenty
    paths: `select '/vehicles/' || vehicle_id from (
      select vehicle_id, row_number() over (order by count(*), vehicle_id) as place from work_orders group by 1
    ) where place % 15 = 8`,
  },
  {
    name: 'bench page of a joint',
    paths: `select '/bench/joints/' || j.id from job_joints j join jobs b on b.id = j.job_id
      where not exists (select 1 from hand_backs h where h.work_order_id = b.work_order_id) order by j.id limit 6`,
  },
]

/**
 * Pages answered a second, against a bare fastify that runs the same statements on the same file, prepared and in raw mode,
 * each by itself as a bare route does, and sends the same bytes.
 */
export async function measurePages(deps: Deps, client: Client): Promise<Measure[]> {
  const cookie = cookieOfOwner(deps)
  const app = await buildApp(deps)
  const { url } = await listening(app)
  const measures: Measure[] = []
  for (const { name, paths } of PAGES) {
    const seen = await watchPages(deps, deps.store.raw.prepare(paths).pluck().all() as string[], cookie)
    const bare = await barePages(deps, seen)
    const asked = (base: string, count = REQUESTS_A_ROUND): Asked[] =>
      Array.from({ length: count }, (_, nth) => ({
        method: 'GET' as const,
        url: base + seen[nth % seen.length]!.path,
        headers: { cookie },
        expect: 200,
      }))
    for (const base of [url, bare.url]) await client.perSecond(asked(base, WARM_UP), AT_ONCE)
    const medians = await byTurns(
      ROUNDS,
      () => client.perSecond(asked(url), AT_ONCE),
      () => client.perSecond(asked(bare.url), AT_ONCE),
    )
    const statements = seen.reduce((sum, page) => sum + page.statements.length, 0) / seen.length
    measures.push(rates(`${name}, a second (${Math.round(statements)} statements each)`, medians, GOAL))
    await bare.close()
  }
  await app.close()
  return measures
}

function cookieOfOwner(deps: Deps): string {
  const owner = deps.store.raw.prepare("select id from people where role = 'owner'").pluck().get() as string
  return `witness_mark=${openSession(contextFor(deps, null), owner)}`
}

/** Answers each address on a connection that tells what it runs; twice, since what is worked out once is kept. */
async function watchPages(deps: Deps, paths: string[], cookie: string): Promise<Seen[]> {
  let statements: Ran[] = []
  const file = new Database(deps.store.raw.name)
  const raw = watched(file, ran => statements.push(ran))
  const app = await buildApp({ ...deps, store: { ...deps.store, raw, read: drizzle(raw), close: () => file.close() } })
  const seen: Seen[] = []
  for (const path of paths) {
    await app.inject({ url: path, headers: { cookie } })
    statements = []
    const answer = await app.inject({ url: path, headers: { cookie } })
    if (answer.statusCode !== 200) throw new Error(`${path} answered ${answer.statusCode}`)
    seen.push({ path, statements: [...statements], html: answer.body })
  }
  await app.close()
  file.close()
  return seen
}

async function barePages(deps: Deps, seen: readonly Seen[]): Promise<{ url: string; close(): Promise<void> }> {
  const raw = new Database(deps.store.raw.name, { readonly: true })
  const app = bareServer()
  for (const { path, statements, html } of seen) {
    const prepared = statements
      .map(({ sql, bound }) => ({ statement: raw.prepare(sql), bound }))
      .filter(({ statement }) => statement.reader)
      .map(({ statement, bound }) => ({ statement: statement.raw(), bound }))
    app.get(path, async (_request, reply) => {
      for (const { statement, bound } of prepared) statement.all(...bound)
      return reply.header('content-type', 'text/html; charset=utf-8').send(html)
    })
  }
  const { url } = await listening(app)
  return {
    url,
    async close() {
      await app.close()
      raw.close()
    },
  }
}
