import {
  addProcedureRevision,
  createAccessStep,
  createComponent,
  createOperation,
  createProcedure,
} from '../../src/catalogue/index.ts'
import { recordTorque, signOffJoint } from '../../src/fastening/index.ts'
import { recordFinalCheck, recordLookResult } from '../../src/findings/index.ts'
import { closeStep } from '../../src/hand-back/index.ts'
import { createPart } from '../../src/parts/index.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
import {
  addJob,
  authoriseAmount,
  type Job,
  openStep,
  openWorkOrder,
  type WorkOrderInput,
} from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'

/**
 * A small van in the house, and a catalogue whose strip-down goes four deep: wheel off, brake carrier aside, axle shaft out,
 * hub carrier out. All invented.
 */
export function orderWorld(t: TestApp) {
  const owner = t.as('owner')
  const desk = t.as('desk')
  const technician = t.as('technician')
  const step = (name: string, hours: number, needs: string[]) =>
    createAccessStep(owner, { name, hours, needs, exposes: [], disturbs: [] }).id
  const wheel = step('Wheel off', 0.3, [])
  const carrier = step('Brake carrier aside', 0.4, [wheel])
  const shaft = step('Axle shaft out', 0.9, [carrier])
  const hub = step('Hub carrier out', 1.1, [shaft])
  for (const name of ['Brake hose', 'Hub seal']) {
    createComponent(owner, { name, severity: 'breakdown', causes: [], check_minutes: 5, access_step_ids: [] })
  }
  const procedure = createProcedure(owner, { name: 'Drive flange' }).id
  addProcedureRevision(owner, procedure, {
    layout: 'circle',
    count: 2,
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
    reuse: 'free',
    severity: 'breakdown',
    on_failure: 'restart',
    source: "Invented maker's manual, page 12",
  })
  const operation = (name: string, hours: number, steps: string[], more: object = {}) =>
    createOperation(owner, { name, hours, access_step_ids: steps, joints: [], looks: [], final_checks: [], ...more }).id
  const operations = {
    /** Strip-down three deep and nothing to prove. */
    boot: operation('Axle shaft boot: replace', 0.6, [shaft]),
    /** Four deep, with a joint, a look and a final check. */
    bearing: operation('Rear wheel bearing: replace', 1, [hub], {
      joints: [{ name: 'Drive flange', procedure_id: procedure, behind_step_id: shaft }],
      looks: [{ component: 'Brake hose', severity: 'safety', behind_step_id: carrier, minutes: 5 }],
      final_checks: ['Road test above forty'],
      warranty_days: 730,
      warranty_km: 40_000,
    }),
    /** No plan at all. */
    bulb: operation('Rear lamp bulb: replace', 0.2, []),
  }
  const wrench = registerWrench(owner, { name: 'W-11', kind: 'measures', min_nm: 5, max_nm: 50 }).id
  recordCalibration(owner, wrench, {
    made_on: '2031-01-15',
    certificate: 'K-118',
    found: 'good',
    points: [{ at_nm: 25, uncertainty_nm: 0.5 }],
  })
  const part = createPart(desk, { number: 'HB-204', name: 'Hub bearing' }).id
  const customer = createCustomer(desk, { name: 'Bodil Farrow' }).id
  const vehicle = createVehicle(desk, { family: 'Corvane Haulette B', plate: 'QH 418 TK', odometer_unit: 'km' }).id
  const openOrder = (more: Partial<WorkOrderInput> = {}) =>
    openWorkOrder(desk, {
      vehicle_id: vehicle,
      customer_id: customer,
      complaint: 'It hums from the back above forty.',
      symptoms: ['Hum from the rear'],
      arrived: 'runs',
      odometer_km: 143_720,
      ...more,
    }).id
  const order = openOrder()
  return {
    ...{ owner, desk, technician, wheel, carrier, shaft, hub, procedure, operations, wrench, part, customer, vehicle },
    order,
    openOrder,
    add: (operation: keyof typeof operations, to = order) => addJob(desk, to, { operation_id: operations[operation] }),
    open(job: Job, ...steps: string[]) {
      for (const each of steps) openStep(technician, job.id, each, {})
    },
    close(job: Job, ...steps: string[]) {
      for (const each of steps) closeStep(technician, job.id, each, {})
    },
    /** The customer's yes to a total, tax included. */
    agree: (amount_minor: number, to = order) =>
      authoriseAmount(desk, to, { amount_minor, includes_tax: true, said_by: 'Bodil Farrow', how: 'phone' }),
    /** Tightens one fastener of a joint to its target. */
    tighten(jointId: string, position: number, value = 25) {
      recordTorque(technician, jointId, {
        position,
        stage: 1,
        value,
        unit: 'N.m',
        basis: 'measured',
        wrench_id: wrench,
      })
    },
    /** Tightens both fasteners of a joint and signs it. */
    finishJoint(jointId: string) {
      for (const position of [1, 2]) this.tighten(jointId, position)
      signOffJoint(technician, jointId, { as: 'technician' })
    },
    lookFine: (lookId: string) => recordLookResult(technician, lookId, { fine: true }),
    checkFine: (checkId: string, fine = true) => recordFinalCheck(technician, checkId, { fine }),
  }
}

export type OrderWorld = ReturnType<typeof orderWorld>
