import { createToken, patchSettings } from '../../src/accounts/index.ts'
import { settingsVersion } from '../../src/accounts/service/settings.ts'
import {
  addProcedureRevision,
  createOperation,
  createProcedure,
  type ProcedureRevisionInput,
} from '../../src/catalogue/index.ts'
import { localDateOf } from '../../src/core/calendar.ts'
import { reportBatchFault } from '../../src/parts/index.ts'
import { type Context, contextFor } from '../../src/platform/context.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { addJob, type Job } from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'
import { type OrderWorld, orderWorld } from './order-world.ts'

/** Everybody who may tap in the walk. */
export interface WalkWorld extends OrderWorld {
  t: TestApp
  people: { desk: Context; first: Context; second: Context; owner: Context }
  clicker: string
  /** The batch of which parts are taken now, and one that was found bad, if there is any. */
  batch(): string
  badBatch(): string
  /** The batch in use is found bad: from now on the next one is taken. */
  reportBatch(by: Context): void
  /** A check of the wrench that shows what it measures, today. */
  checkWrench(found: 'good' | 'outside'): void
  /** Its last check found it outside. */
  isOut(): boolean
  /** A new vehicle's stay, agreed to any amount: one job with a plan, one whose only joint may be voided. */
  newOrder(): { order: string; jobs: Job[] }
}

const TORQUE = { kind: 'torque', target: 25, lower: 20, upper: 30 } as const
const usual = { layout: 'row', count: 2, source: 'Invented manual' } as const

const PROCEDURES: Record<string, ProcedureRevisionInput> = {
  safety: {
    ...usual,
    stages: [TORQUE, { kind: 'angle', target: 90, lower: 80, upper: 100 }],
    reuse: 'free',
    severity: 'safety',
    on_failure: 'restart',
  },
  single: { ...usual, stages: [TORQUE], reuse: 'never', severity: 'breakdown', on_failure: 'replace' },
  again: {
    ...usual,
    stages: [{ ...TORQUE, target: 22 }, TORQUE],
    reuse: 'after_inspection',
    severity: 'nuisance',
    on_failure: 'redo_joint',
    marks: ['Which way the flange sits'],
  },
}

export function walkWorld(t: TestApp): WalkWorld {
  const w = orderWorld(t)
  const { person } = createToken(t.system, { name: 'second technician', role: 'technician' })
  const second = contextFor(t.deps, { id: person.id, name: person.name, role: 'technician' })
  patchSettings(w.owner, { look_again_after_minutes: 30 }, settingsVersion(w.owner))
  const procedure = (name: string) => {
    const { id } = createProcedure(w.owner, { name: `Walk ${name}` })
    addProcedureRevision(w.owner, id, PROCEDURES[name]!)
    return id
  }
  const [safety, single, again] = [procedure('safety'), procedure('single'), procedure('again')]
  const whole = createOperation(w.owner, {
    ...{ name: 'Walk: the whole way', hours: 1, access_step_ids: [w.shaft], turns_engine: true },
    joints: [
      { name: 'Safety joint', procedure_id: safety, behind_step_id: w.shaft },
      { name: 'Single-use joint', procedure_id: single, behind_step_id: w.carrier },
      { name: 'Joint done again whole', procedure_id: again },
    ],
    looks: [
      { component: 'Brake hose', severity: 'safety', behind_step_id: w.carrier, minutes: 5 },
      { component: 'Hub seal', severity: 'breakdown', behind_step_id: w.shaft, minutes: 5 },
    ],
    final_checks: ['Road test'],
    marks: [{ text: 'Wheel to hub', before_step_id: w.wheel }],
    tools: [{ tool: 'Locking pin', count: 2, for_step_id: w.shaft, before_step_id: w.shaft }],
  }).id
  const small = createOperation(w.owner, {
    ...{ name: 'Walk: one joint', hours: 0.5, access_step_ids: [], looks: [], final_checks: [] },
    joints: [{ name: 'Small joint', procedure_id: single }],
  }).id
  const clicker = registerWrench(w.owner, { name: 'W-20', kind: 'clicks', min_nm: 5, max_nm: 50 }).id
  recordCalibration(w.owner, clicker, {
    ...{ made_on: '2031-01-15', certificate: 'K-119', found: 'good' },
    points: [{ at_nm: 25, uncertainty_nm: 1 }],
  })
  let [batches, isOut] = [1, false]
  return {
    ...w,
    t,
    clicker,
    batch: () => `L-${batches}`,
    badBatch: () => `l-${batches - 1}`,
    reportBatch(by) {
      reportBatchFault(by, w.part, { batch: `L-${batches}`, reason: 'Heads crack' })
      batches += 1
    },
    checkWrench(found) {
      const made_on = localDateOf(t.clock.now(), 'UTC')
      recordCalibration(w.owner, w.wrench, {
        ...{ made_on, found, certificate: 'K-200', points: [{ at_nm: 25, uncertainty_nm: 0.5 }] },
      })
      isOut = found === 'outside'
    },
    isOut: () => isOut,
    people: { desk: w.desk, first: w.technician, second, owner: w.owner },
    newOrder() {
      const order = w.openOrder({ odometer_km: 143_720 })
      const jobs = [whole, small].map(operation_id => addJob(w.desk, order, { operation_id }))
      w.agree(10_000_000, order)
      return { order, jobs }
    },
  }
}
