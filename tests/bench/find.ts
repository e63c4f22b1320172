import path from 'node:path'
import { addPerson, openSession } from '../../src/accounts/index.ts'
import { buildApp } from '../../src/app.ts'
import { depsFor } from '../../src/cli/database.ts'
import { contextFor, type Deps } from '../../src/platform/context.ts'
import { openMigrated } from '../../src/platform/database/migrate.ts'
import { forgetTouched } from '../../src/platform/database/touched-rows.ts'
import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
import { bareServer, listening } from './bare-server.ts'
import type { Client } from './client.ts'
import { atMost, type Measure, slowestOfHundred } from './measure.ts'

const SIZES = [1000, 20_000, 200_000]
const GROWTH = 1.5
const ROUNDS = 5

/** What is typed into the one box: parts of numbers and names, whole ones, and two with a typing error. */
const TYPED = ['QH 4', '418 TK', '0555 01', 'Farrow', 'bodil fa', '7700', 'Farow', 'QH 418 TX']

/**
 * The one box and the page on which a vehicle is taken in, with few and with many vehicles on record: the slowest of a hundred
 * against a bare route that sends as many bytes, and how that grows.
 */
export async function measureFinding(folder: string, client: Client): Promise<Measure[]> {
  const ratios: Record<string, number[]> = {}
  const measures: Measure[] = []
  for (const size of SIZES) {
    const deps = depsFor(await openMigrated(path.join(folder, `find-${size}.db`)))
    const vehicle = fill(deps, size)
    for (const { name, value, floor } of await waits(deps, vehicle, client)) {
      ratios[name] = [...(ratios[name] ?? []), value / floor]
      if (size === SIZES.at(-1))
        measures.push(
          atMost(`${name}, slowest of 100, ms (${size} vehicles, goal of the box 20 ms)`, { value, floor }, 20 / floor),
        )
    }
    deps.store.close()
  }
  for (const [name, [few, , many]] of Object.entries(ratios))
    measures.push(
      atMost(`${name}: its growth from ${SIZES[0]} to ${SIZES[2]} vehicles`, { value: many!, floor: few! }, GROWTH),
    )
  return measures
}

/** So many vehicles, each with a keeper of its own; copied in the tables, since nobody measures here how they are written. */
function fill(deps: Deps, count: number): string {
  const ctx = contextFor(deps, null)
  const keeper_id = createCustomer(ctx, { name: 'Bodil Farrow', phone: '0555 014 220' }).id
  const first = createVehicle(ctx, { family: 'Corvane Tern', plate: 'QH 418 TK', odometer_unit: 'km', keeper_id }).id
  const { raw } = deps.store
  const copies = (table: string, changed: Record<string, string>) => {
    const columns = raw.pragma(`table_info(${table})`) as { name: string }[]
    const values = columns.map(({ name }) => changed[name] ?? `t.${name}`)
    raw.exec(`with recursive n (i) as (select 1 union all select i + 1 from n where i < ${count - 1})
      insert into ${table} (${columns.map(({ name }) => `"${name}"`).join(', ')}) select ${values.join(', ')} from n, (select * from ${table} limit 1) t`)
  }
  const id = (kind: string) => `printf('ffff-${kind}-%06d', i)`
  const name = `(substr('abcdefghijklmnopqrstuvwxyz', 1 + i % 26, 1) || substr('aeiou', 1 + i % 5, 1) || substr('lmnrst', 1 + i % 6, 1) || i % 997)`
  const plate = `(char(97 + i % 26) || char(97 + i * 3 % 26) || i % 1000 || char(97 + i * 5 % 26) || char(97 + i * 11 % 26) || i)`
  copies('customers', { id: id('c'), name, find_key: `' ' || ${name} || ' 0555' || printf('%06d', i) || ' '` })
  copies('vehicles', { id: id('v'), plate, find_key: `' ' || ${plate} || ' corvanetern '` })
  copies('keepers', { id: id('k'), vehicle_id: id('v'), customer_id: id('c') })
  forgetTouched(raw)
  return first
}

async function waits(deps: Deps, vehicle: string, client: Client) {
  const ctx = contextFor(deps, null)
  const owner = await addPerson(ctx, { name: 'Bench', role: 'owner' }, 'a few words in a row')
  const headers = { cookie: `witness_mark=${openSession(ctx, owner.person.id)}` }
  const app = await buildApp(deps)
  const { url } = await listening(app)
  const bare = bareServer()
  const pages = [
    { name: 'the one box', paths: TYPED.map(q => `/take-in?${new URLSearchParams({ q })}`) },
    { name: 'taking in', paths: [`/take-in?vehicle=${vehicle}`] },
  ]
  const answers = new Map<string, string>()
  bare.get('/take-in', async (request, reply) =>
    reply.header('content-type', 'text/html; charset=utf-8').send(answers.get(request.url)),
  )
  const { url: bareUrl } = await listening(bare)
  const measured = []
  for (const { name, paths } of pages) {
    for (const each of paths) {
      const { statusCode, body } = await app.inject({ url: each, headers })
      if (statusCode !== 200 && statusCode !== 303) throw new Error(`${each} answered ${statusCode}`)
      answers.set(each, body)
    }
    const seen = paths.filter(each => answers.get(each) !== '')
    const asked = (base: string) =>
      Array.from({ length: 100 }, (_, nth) => {
        const method = 'GET' as const
        return { method, url: base + seen[nth % seen.length]!, headers, expect: 200 }
      })
    await client.waits(asked(url))
    await client.waits(asked(bareUrl))
    const [value, floor]: [number[], number[]] = [[], []]
    for (let round = 0; round < ROUNDS; round += 1) {
      value.push(...(await client.waits(asked(url))))
      floor.push(...(await client.waits(asked(bareUrl))))
    }
    measured.push({ name, value: slowestOfHundred(value), floor: slowestOfHundred(floor) })
  }
  await app.close()
  await bare.close()
  return measured
}
