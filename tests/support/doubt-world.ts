import { createOperation } from '../../src/catalogue/index.ts'
import { recordTorque } from '../../src/fastening/index.ts'
import { recordCalibration, registerWrench } from '../../src/tools/index.ts'
import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
import { addJob } from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'
import { comebackWorld } from './comeback-world.ts'
import { scenario } from './http.ts'

/** Orders and hand-backs with what puts joints in doubt. A day is of March 2031, at eight in the morning. */
export function doubtWorld(t: TestApp) {
  const w = comebackWorld(t)
  const dayOf = (day: number) => `2031-03-${String(day).padStart(2, '0')}`
  // a joint of two bolts and nothing else to do
  const flange = createOperation(w.owner, {
    ...{ name: 'Drive flange: tighten', hours: 0.3, access_step_ids: [], looks: [], final_checks: [] },
    joints: [{ name: 'Drive flange', procedure_id: w.procedure }],
  }).id
  const W12 = registerWrench(w.owner, { name: 'W-12', kind: 'measures', min_nm: 5, max_nm: 50 }).id
  const world = {
    ...w,
    W12,
    on(day: number): void {
      t.clock.set(Date.parse(`${dayOf(day)}T08:00:00Z`))
    },
    check(day: number, found: 'good' | 'outside', wrench = w.wrench): string {
      const points = [{ at_nm: 25, uncertainty_nm: 0.5 }]
      return recordCalibration(w.owner, wrench, { made_on: dayOf(day), certificate: `K-3${day}`, found, points }).id
    },
    /** A joint of two bolts on a job of its own, nothing of it tightened yet. */
    joint: (order = w.order): string => addJob(w.desk, order, { operation_id: flange }).joints[0]!.id,
    tightenWith(joint: string, wrench_id: string, more: object = {}) {
      const place = { position: 1, stage: 1, value: 25, unit: 'N.m', basis: 'measured' } as const
      return recordTorque(w.technician, joint, { ...place, wrench_id, ...more })
    },
    /** The same with one bolt tightened now; with W-11, unless it says another. */
    tightened(order = w.order, wrench = w.wrench): string {
      const joint = world.joint(order)
      world.tightenWith(joint, wrench)
      return joint
    },
    /** Another vehicle with its customer, and an order of it. */
    another(plate: string, customer: string, phone: string): { vehicle: string; order: string } {
      const keeper_id = createCustomer(w.desk, { name: customer, phone }).id
      const vehicle = createVehicle(w.desk, { family: 'Pikko Tramp', plate, odometer_unit: 'km', keeper_id }).id
      return { vehicle, order: w.openOrder({ vehicle_id: vehicle, customer_id: keeper_id, odometer_km: 4000 }) }
    },
    /** Tightens and signs a joint on an order of its own, and hands the vehicle back. */
    leaves(order: string): string {
      const joint = world.joint(order)
      w.finishJoint(joint)
      w.giveBack(order)
      return joint
    },
    async doubts() {
      return (await scenario(t, { as: 'desk', get: '/api/doubts?limit=500', expect: 200 })).body.items
    },
    /** The joints that are in doubt now, one by one, and by which cause. */
    async open(): Promise<[joint: string, cause: string][]> {
      const all: { settled: object | null; joint_id: string; cause: string }[] = await world.doubts()
      return all.filter(({ settled }) => settled === null).map(({ joint_id, cause }) => [joint_id, cause])
    },
  }
  world.check(1, 'good', W12)
  return world
}

export type DoubtWorld = ReturnType<typeof doubtWorld>
