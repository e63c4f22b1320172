import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Problem } from '../../src/platform/problems.ts'
import { eachTestItsApp } from '../support/app.ts'
import { type NaiveReading, naiveReading } from '../support/naive-reading.ts'
import { type Done, play, type Stay, taps } from '../support/walk-taps.ts'
import { walkWorld } from '../support/walk-world.ts'

const app = eachTestItsApp()

const SEED = 20_310_303
const WALKS = 20
const TAPS = 500

test(`no sequence of ${WALKS * TAPS} taps by desk, two technicians and owner signs with a stage missing, a doubt open or a tool closed in, issues of a bad batch, closes over an open thing or hands back with a tool in (seed ${SEED})`, async () => {
  const t = await app()
  const w = walkWorld(t)
  const read = naiveReading(t.deps.store.raw)
  const reached = new Map<string, number>()
  let walked = 0
  const walk = fc.record({ chaos: fc.constantFrom(3, 10, 30, 100), taps: taps(TAPS) })
  fc.assert(
    fc.property(walk, ({ chaos, taps }) => {
      let stay: Stay = w.newOrder()
      let hasLeft = false
      for (const tap of taps) {
        walked += 1
        // ids sort by time to the millisecond, as in the shop
        t.clock.set(t.clock.now() + 1000)
        const done = accepted(() => play(w, stay, tap, chaos))
        if (done === null) {
          // a vehicle that has left is tapped at for a while, then the next one comes
          if (hasLeft && tap.pick % 10 === 0) [stay, hasLeft] = [w.newOrder(), false]
          continue
        }
        reached.set(done.action, (reached.get(done.action) ?? 0) + 1)
        expect(wrongs(read, stay, done), `after ${JSON.stringify({ tap, done })}`).toEqual([])
        if (done.action === 'hand_back') hasLeft = true
      }
    }),
    { seed: SEED, numRuns: WALKS, endOnFailure: true },
  )
  expect(walked).toBe(WALKS * TAPS)
  // a walk that never gets there proves nothing
  for (const action of [
    'technician',
    'second_person',
    'close',
    'hand_back',
    'turn',
    'set',
    'temporary',
    'resume',
    'issue',
    'fault',
    'outside',
    'settle',
  ])
    expect(reached.get(action) ?? 0, `${action} of ${JSON.stringify([...reached])}`).toBeGreaterThan(3)
}, 240_000)

/** Null when it was refused with a Problem; any other error is a fault of the program. */
function accepted(work: () => Done): Done | null {
  try {
    return work()
  } catch (error) {
    if (error instanceof Problem) return null
    throw error
  }
}

function wrongs(read: NaiveReading, { order }: Stay, { action, joint, step }: Done): string[] {
  const notToSign = () => read.notToSign(order, joint!)
  if (action === 'technician') return [...read.notDone(joint!), ...notToSign()]
  if (action === 'second_person')
    return [...read.notSigned(joint!).filter(why => why !== 'nobody has signed'), ...notToSign()]
  if (action === 'issue') return read.badIssues()
  if (action === 'close') return read.openBehind(order, step!)
  if (action === 'turn') return read.openForEngine(order)
  return action === 'hand_back' ? read.openOnOrder(order) : []
}
