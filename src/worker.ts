import { parentPort, workerData } from 'node:worker_threads'
import pino from 'pino'
import { comebackRates } from './comebacks/index.ts'
import { type Context, contextFor, type Progress } from './platform/context.ts'
import { openReadOnly } from './platform/database/open.ts'
import { readAsOne } from './platform/database/unit-of-work.ts'
import { systemIds } from './platform/ids.ts'
import { Problem } from './platform/problems.ts'
import type { Answered, Asked } from './platform/workers/computing.ts'
import { priorWorkPairs, recurrence } from './recurring-failures/index.ts'
import { promises, warrantyBacktest, warrantyExposures } from './warranty/index.ts'

/** What the worker can be asked, by name; each reads, computes and answers with plain data. */
const TASKS: Record<string, (ctx: Context, question: never) => unknown> = {
  'prior-work': priorWorkPairs,
  recurrence,
  'comeback-rate': comebackRates,
  'warranty-exposure': warrantyExposures,
  'warranty-backtest': warrantyBacktest,
  'warranty-promises': promises,
}

/** Often enough for whoever looks on, and seldom beside the work. */
const TELL_EVERY_MS = 200

const store = openReadOnly((workerData as { file: string }).file)
const log = pino({ level: 'silent' })

/** One reading transaction for the whole task: it sees the database as it stood at one moment. */
function answerTo({ id, task, question, now }: Asked): Answered {
  const work = TASKS[task]
  if (work === undefined) return { id, kind: 'fault', message: `There is no task ${task}` }
  try {
    const ctx = { ...contextFor({ store, clock: { now: () => now }, ids: systemIds, log }, null), tell: teller(id) }
    return { id, kind: 'value', value: readAsOne(ctx, () => work(ctx, question as never)) }
  } catch (error) {
    if (error instanceof Problem) return { id, kind: 'refusal', type: error.type, more: error.more }
    return { id, kind: 'fault', message: error instanceof Error ? (error.stack ?? error.message) : String(error) }
  }
}

function teller(id: number): (progress: Progress) => void {
  let told = 0
  return progress => {
    const now = performance.now()
    if (now - told < TELL_EVERY_MS) return
    told = now
    parentPort?.postMessage({ id, kind: 'progress', progress } satisfies Answered)
  }
}

parentPort?.on('message', (message: Asked | 'close') => {
  if (message === 'close') {
    store.close()
    parentPort?.close()
  } else parentPort?.postMessage(answerTo(message))
})
