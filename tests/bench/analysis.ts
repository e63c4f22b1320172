import { execFileSync } from 'node:child_process'
import path from 'node:path'
import { fileURLToPath } from 'node:url'
import { addPerson, openSession } from '../../src/accounts/index.ts'
import { depsFor } from '../../src/cli/database.ts'
import { startServer } from '../../src/main.ts'
import { contextFor } from '../../src/platform/context.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import type { Client } from './client.ts'
import { writeHistory } from './history.ts'
import { importFile } from './import.ts'
import { atMost, type Measure, slowestOfHundred, times } from './measure.ts'

/** A tenth of the events of a vehicle, each of 60 operations and 60 components: as many vehicles as a country's dealer sees. */
const WIDE = { eventsAVehicle: 10, operations: 60, components: 60, every: 400 }
const SIZES = [10_000, 100_000, 1_000_000]
const GOAL = 4
const SPARE_SECONDS = 1
const MOST_MEGABYTES = 512
const PAGE_GOAL = 2

/** What `analysis-alone.ts` prints. */
export interface Alone {
  analysis_seconds: number
  read_seconds: number
  megabytes: number
}

/**
 * What often follows what, over all lives: its time against one reading of their rows in raw mode, how it grows, how much memory
 * a process takes that does nothing else, and how long other pages wait meanwhile.
 */
export async function measureAnalysis(folder: string, client: Client): Promise<Measure[]> {
  const measures: Measure[] = []
  const seconds: number[] = []
  for (const rows of SIZES) {
    const history = path.join(folder, `wide-${rows}.csv`)
    const file = path.join(folder, `wide-${rows}.db`)
    writeHistory(history, { ...WIDE, rows, seed: 2 })
    const store = await openMigrated(file)
    importFile(contextFor(depsFor(store), null), history)
    store.close()
    const { analysis_seconds, read_seconds, megabytes } = alone(file)
    seconds.push(analysis_seconds)
    const name = `what often follows what, seconds (${rows} events; ${SPARE_SECONDS} s to spare)`
    measures.push(times(name, { value: analysis_seconds, floor: read_seconds }, GOAL, SPARE_SECONDS))
    if (rows === SIZES.at(-1)) {
      measures.push(atMost(`its memory, MB (${rows} events)`, { value: megabytes, floor: MOST_MEGABYTES }, 1))
      measures.push(await pagesMeanwhile(file, client))
    }
  }
  const [, some, many] = seconds
  const growth = (SIZES[2]! * Math.log(SIZES[2]!)) / (SIZES[1]! * Math.log(SIZES[1]!))
  measures.push(
    atMost('its growth from 100 000 to 1 000 000 events, against n log n', { value: many! / some!, floor: growth }, 1),
  )
  return measures
}

/** In a process of its own, so that its memory is its own. */
function alone(file: string): Alone {
  const script = fileURLToPath(new URL('./analysis-alone.ts', import.meta.url))
  return JSON.parse(execFileSync(process.execPath, ['--import', 'tsx', script, file], { encoding: 'utf8' })) as Alone
}

/** The slowest of a hundred waits for a page while the worker computes, against the same while it does not. */
async function pagesMeanwhile(file: string, client: Client): Promise<Measure> {
  const deps = depsFor(await openMigrated(file))
  const ctx = contextFor(deps, null)
  const owner = await addPerson(ctx, { name: 'Bench', role: 'owner' }, 'a few words in a row')
  const headers = { cookie: `witness_mark=${openSession(ctx, owner.person.id)}` }
  const server = await startServer(deps, { host: '127.0.0.1', port: 0 })
  const vehicle = deps.store.raw
    .prepare('select id from vehicles order by id limit 1 offset 500')
    .pluck()
    .get() as string
  const page = { method: 'GET' as const, url: `${server.url}/vehicles/${vehicle}`, headers, expect: 200 }
  const some = () => client.waits(Array.from({ length: 100 }, () => page))
  await some()
  const idle = [...(await some()), ...(await some()), ...(await some())]
  let computing = true
  const computed = fetch(`${server.url}/recurring`, { headers }).then(() => {
    computing = false
  })
  const meanwhile: number[] = []
  while (computing) meanwhile.push(...(await some()))
  await computed
  await server.stop()
  return atMost(
    `slowest of 100 vehicle pages while it computes, ms (${meanwhile.length} asked)`,
    { value: slowestOfHundred(meanwhile), floor: slowestOfHundred(idle) },
    PAGE_GOAL,
  )
}
