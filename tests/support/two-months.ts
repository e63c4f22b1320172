import { handBack } from '../../src/hand-back/index.ts'
import { createVehicle } from '../../src/vehicles/index.ts'
import { addJob, addPartLine, completeJob } from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'
import type { ComebackWorld } from './comeback-world.ts'
import { scenario } from './http.ts'

/** Eight in the morning of a day of 2031. */
export const day = (month: number, date: number) => Date.UTC(2031, month - 1, date, 8)

/**
 * Two months of a small workshop, worked out by hand. Labour 60.00 an hour to the customer, 40.00 to us; tax 20 %; warranty
 * 365 days, so every job is still within its window.
 *
 *  3 March  van, "bulb" 0.2 h and a part of 50.00 (30.00 to us): 12.00 + 50.00 = 62.00 net, 74.40 with tax
 * 10 March  moped, "chain" 1.5 h: 90.00 net, 108.00 with tax
 * 20 March  the van is back with the same symptom, 17 days after; confirmed on the 25th
 *  2 April  the van leaves: the same bulb and part, 62.00 net, 74.40 with tax, all of it borne by us
 * 15 April  the moped is back with the same symptom, 36 days after; nobody decides in April
 */
export function twoMonths(t: TestApp, w: ComebackWorld) {
  const bulb = (order: string) => {
    const job = addJob(w.desk, order, { operation_id: w.operations.bulb }).id
    const more = { batch: '30-772', condition: 'new', cost_minor: 3000, price_minor: 5000 } as const
    addPartLine(w.desk, job, { part_id: w.part, quantity: 1, ...more })
    completeJob(w.technician, job, {})
    return job
  }
  const first = bulb(w.order)
  w.giveBack(w.order)

  t.clock.set(day(3, 10))
  const moped = createVehicle(w.desk, { family: 'Pikko Tramp 125', plate: 'QH 77', odometer_unit: 'km' }).id
  const mopedOrder = w.openOrder({ vehicle_id: moped, symptoms: ['Chain slaps'] })
  const second = addJob(w.desk, mopedOrder, { task: 'Chain: set tension', hours: 1.5 }).id
  completeJob(w.technician, second, {})
  w.giveBack(mopedOrder)

  t.clock.set(day(3, 20))
  const back = w.openOrder()
  bulb(back)
  return {
    ...{ first, second, moped, back },
    confirm: { earlier_job_id: first, later_work_order_id: back, category: 'part', borne_by: 'us' },
    /** The rest of the story, to the first of May. */
    async goOn() {
      t.clock.set(day(3, 25))
      const decision = await w.decide(this.confirm)
      t.clock.set(day(4, 2))
      handBack(w.desk, back, { borne_minor: 7440, borne_reason: 'It was our bulb.' })
      t.clock.set(day(4, 15))
      const mopedBack = w.openOrder({ vehicle_id: moped, symptoms: ['Chain slaps'] })
      t.clock.set(day(5, 1))
      return { decision, mopedBack }
    },
  }
}

/** The review of a month, as a technician's token reads it. */
export async function review(t: TestApp, month: string, query = '') {
  return (await scenario(t, { as: 'technician', get: `/api/month-reviews/${month}${query}`, expect: 200 })).body
}
