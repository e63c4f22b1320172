import path from 'node:path'
import Database from 'better-sqlite3'
import { createToken } from '../../src/accounts/index.ts'
import { faceOf } from '../../src/app.ts'
import { addProcedureRevision, createOperation, createProcedure } from '../../src/catalogue/index.ts'
import { type Context, contextFor, type Deps } from '../../src/platform/context.ts'
import { write } from '../../src/platform/database/unit-of-work.ts'
import type { Api } from '../../src/platform/http/api-route.ts'
import { buildServer, readTemplates } from '../../src/platform/http/server.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
import { addJob, openWorkOrder } from '../../src/work-orders/index.ts'
import { listening } from './bare-server.ts'
import type { Asked, Client } from './client.ts'
import { byTurns, type Measure, rates } from './measure.ts'

const ROUNDS = 9
/** As for the pages: a server that has run for a while. */
const WARM_UP_ROUNDS = 10
const WRITES_A_ROUND = 80
const JOINTS_A_JOB = 10
/** As a technician taps: the next when the one before was answered. */
const AT_ONCE = 1
const GOAL = 0.6

/**
 * Torque records and signatures written a second through the API, each with its checks, its key, its event and its answer kept,
 * against one bare insert through the same server: a route beside ours, behind the same hooks (headers, login, body), that
 * does nothing but insert what it got. Both sync every write to the disk.
 */
export async function measureWrites(deps: Deps, client: Client, folder: string): Promise<Measure[]> {
  const { token } = createToken(contextFor(deps, null), { name: 'Bench', role: 'owner' })
  const { joints, wrench } = jointsInHouse(deps, (ROUNDS + WARM_UP_ROUNDS) * WRITES_A_ROUND)
  const bare = bareRows(path.join(folder, 'bare.db'))
  const face = faceOf(deps, readTemplates(false))
  const app = await buildServer(deps, { ...face, apis: [...face.apis, bare.api] })
  const { url } = await listening(app)
  const post = (address: string, body: object): Asked => ({
    method: 'POST',
    url: address,
    headers: {
      authorization: `Bearer ${token}`,
      'content-type': 'application/json',
      'idempotency-key': deps.ids.next(),
    },
    body: JSON.stringify(body),
    expect: 201,
  })
  const measures: Measure[] = []
  for (const [name, resource, body] of [
    [
      'torque records, a second',
      'torque-records',
      { position: 1, stage: 1, value: 10, unit: 'N.m', basis: 'measured', wrench_id: wrench },
    ],
    ['sign-offs, a second', 'sign-offs', { as: 'technician' }],
  ] as const) {
    const ofRound = (round: number) =>
      joints
        .slice(round * WRITES_A_ROUND, (round + 1) * WRITES_A_ROUND)
        .map(joint => post(`${url}/api/joints/${joint}/${resource}`, body))
    const bareOfRound = () => Array.from({ length: WRITES_A_ROUND }, () => post(`${url}/api/bare-rows`, body))
    for (let round = ROUNDS; round < ROUNDS + WARM_UP_ROUNDS; round += 1) {
      await client.perSecond(ofRound(round), AT_ONCE)
      await client.perSecond(bareOfRound(), AT_ONCE)
    }
    const medians = await byTurns(
      ROUNDS,
      round => client.perSecond(ofRound(round), AT_ONCE),
      () => client.perSecond(bareOfRound(), AT_ONCE),
    )
    measures.push(rates(name, medians, GOAL))
  }
  await app.close()
  bare.close()
  return measures
}

/** A van in the house with so many joints of one screw each to tighten. */
export function jointsInHouse(deps: Deps, count: number): { joints: string[]; wrench: string } {
  const ctx = contextFor(deps, null)
  return write(ctx, () => {
    const procedure = createProcedure(ctx, { name: 'Bench screw' }).id
    addProcedureRevision(ctx, procedure, {
      layout: 'row',
      count: 1,
      stages: [{ kind: 'torque', target: 10, lower: 8, upper: 12 }],
      reuse: 'free',
      severity: 'breakdown',
      on_failure: 'restart',
      source: 'Made up for the bench',
    })
    const operation = createOperation(ctx, {
      name: 'Bench screws: tighten',
      hours: 1,
      access_step_ids: [],
      joints: Array.from({ length: JOINTS_A_JOB }, (_, nth) => ({ name: `Screw ${nth + 1}`, procedure_id: procedure })),
      looks: [],
      final_checks: [],
    }).id
    const order = orderOfBench(ctx)
    const joints = Array.from({ length: count / JOINTS_A_JOB }, () =>
      addJob(ctx, order, { operation_id: operation }).joints.map(joint => joint.id),
    ).flat()
    return { joints, wrench: wrenchOfBench(ctx) }
  })
}

function orderOfBench(ctx: Context): string {
  const customer_id = createCustomer(ctx, { name: 'Bench' }).id
  const vehicle_id = createVehicle(ctx, { family: 'Corvane Tern', plate: 'QH 000 BN', odometer_unit: 'km' }).id
  return openWorkOrder(ctx, { vehicle_id, customer_id, complaint: 'None', symptoms: [], arrived: 'runs' }).id
}

function wrenchOfBench(ctx: Context): string {
  const { id } = registerWrench(ctx, { name: 'Bench wrench', kind: 'measures', min_nm: 2, max_nm: 30 })
  recordCalibration(ctx, id, {
    made_on: '2031-10-01',
    certificate: 'Bench',
    found: 'good',
    points: [{ at_nm: 10, uncertainty_nm: 0.1 }],
  })
  return id
}

/** A table of its own in a file of its own, and the route that inserts into it. */
function bareRows(file: string): { api(api: Api): void; close(): void } {
  const raw = new Database(file)
  raw.pragma('journal_mode = WAL')
  raw.pragma('synchronous = FULL')
  raw.exec('create table rows (id integer primary key, body text not null) strict')
  const insert = raw.prepare('insert into rows (body) values (?)')
  return {
    api({ app }) {
      app.post('/bare-rows', async (request, reply) => {
        const { lastInsertRowid } = insert.run(JSON.stringify(request.body))
        return reply.code(201).send({ id: String(lastInsertRowid) })
      })
    },
    close: () => raw.close(),
  }
}
