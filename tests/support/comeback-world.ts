import { handBack } from '../../src/hand-back/index.ts'
import { addJob, authoriseAmount, completeJob } from '../../src/work-orders/index.ts'
import type { TestApp } from './app.ts'
import { scenario } from './http.ts'
import { type OrderWorld, orderWorld } from './order-world.ts'

const DAY = 24 * 60 * 60 * 1000

/** The order world, with jobs that are handed back and stays that follow. */
export function comebackWorld(t: TestApp) {
  const w = orderWorld(t)
  return {
    ...w,
    /** Says yes to whatever it costs and hands it back. */
    giveBack(order: string): void {
      authoriseAmount(w.desk, order, {
        amount_minor: 1_000_000,
        includes_tax: true,
        said_by: 'Bodil Farrow',
        how: 'phone',
        at: new Date(t.clock.now()).toISOString(),
      })
      handBack(w.desk, order, {})
    },
    /** Does the bulb job, or another without a plan, on an order and hands it back. */
    finish(order: string, operation = w.operations.bulb, hours: { hours?: number } = {}): string {
      const job = addJob(w.desk, order, { operation_id: operation, ...hours }).id
      completeJob(w.technician, job, {})
      this.giveBack(order)
      return job
    },
    /** A stay that begins so many days later. */
    later(days: number, more: Parameters<OrderWorld['openOrder']>[0] = {}): string {
      t.clock.set(t.clock.now() + days * DAY)
      return w.openOrder(more)
    },
    async suspicions(query = '') {
      return (await scenario(t, { as: 'desk', get: `/api/suspicions${query}`, expect: 200 })).body.items
    },
    async rates(query: string) {
      return (await scenario(t, { as: 'desk', get: `/api/analysis/comeback-rate?${query}`, expect: 200 })).body.groups
    },
    /** The owner's word, unless it says another. */
    async decide(
      more: object,
      wanted: { as?: 'owner' | 'desk'; expect?: number; problem?: string; fields?: string[] } = {},
    ) {
      const body = { decision: 'confirmed', why: 'The belt was set too tight.', root_cause: [], ...more }
      return (await scenario(t, { as: 'owner', post: '/api/comeback-decisions', body, expect: 201, ...wanted })).body
    },
  }
}

export type ComebackWorld = ReturnType<typeof comebackWorld>
