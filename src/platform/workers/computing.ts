import { Worker } from 'node:worker_threads'
import type { Progress } from '../context.ts'
import type { Store } from '../database/open.ts'
import type { ProblemName } from '../problem-catalogue.ts'
import { Problem, type ProblemMore } from '../problems.ts'

/** What the worker is asked: a task by its name, its question, and what time it is here. */
export interface Asked {
  id: number
  task: string
  question: unknown
  now: number
}

/** What it answers: how far it is, and then a value, a refusal of the catalogue, or what went wrong. */
export type Answered =
  | { id: number; kind: 'progress'; progress: Progress }
  | { id: number; kind: 'value'; value: unknown }
  | { id: number; kind: 'refusal'; type: ProblemName; more: ProblemMore }
  | { id: number; kind: 'fault'; message: string }

interface Waiting {
  tell(progress: Progress): void
  resolve(value: unknown): void
  reject(error: Error): void
}

/** The one long-lived worker that reads the database on a connection of its own, so that long computing stops no page. */
export interface Computing {
  ask(task: string, question: unknown, now: number, tell?: (progress: Progress) => void): Promise<unknown>
  /** Asks it to close and waits until it has; never ends it in the middle of its work. */
  stop(): Promise<void>
}

const COMPUTING = new WeakMap<Store, Computing>()

/** The worker of this database, if one was started. */
export function computingOf(store: Store): Computing | undefined {
  return COMPUTING.get(store)
}

/** Run from its sources, the program takes their types away while they load; so does its worker. */
function startWorker(file: string): Worker {
  const entry = import.meta.url.endsWith('.ts') ? '../../cli/worker-from-source.js' : '../../worker.js'
  return new Worker(new URL(entry, import.meta.url), { workerData: { file }, execArgv: [] })
}

function errorOf(answer: Extract<Answered, { kind: 'refusal' | 'fault' }>): Error {
  return answer.kind === 'refusal'
    ? new Problem(answer.type, answer.more)
    : new Error(`In the worker: ${answer.message}`)
}

/**
 * Gives a database its worker. It starts with the first question, and again with the next one should it ever end. A
 * database in memory has none: no other connection could see it.
 */
export function startComputing(store: Store): Computing | null {
  if (store.raw.memory) return null
  const file = store.raw.name
  const waiting = new Map<number, Waiting>()
  let worker: Worker | null = null
  let asked = 0

  function failAll(error: Error): void {
    worker = null
    for (const one of waiting.values()) one.reject(error)
    waiting.clear()
  }

  function running(): Worker {
    if (worker !== null) return worker
    const started = startWorker(file)
    started.on('message', (answer: Answered) => {
      const one = waiting.get(answer.id)
      if (answer.kind === 'progress') return one?.tell(answer.progress)
      waiting.delete(answer.id)
      // an idle worker keeps no program alive that wants to end
      if (waiting.size === 0) started.unref()
      if (answer.kind === 'value') return one?.resolve(answer.value)
      return one?.reject(errorOf(answer))
    })
    started.on('error', error => failAll(error instanceof Error ? error : new Error(String(error))))
    started.on('exit', () => {
      if (worker === started) failAll(new Error('The worker ended before it had answered.'))
    })
    worker = started
    return started
  }

  const computing: Computing = {
    ask(task, question, now, tell = () => undefined) {
      asked += 1
      const id = asked
      return new Promise((resolve, reject) => {
        waiting.set(id, { tell, resolve, reject })
        const asking = running()
        asking.ref()
        asking.postMessage({ id, task, question, now } satisfies Asked)
      })
    },
    async stop() {
      COMPUTING.delete(store)
      const closing = worker
      if (closing === null) return
      await new Promise<void>(resolve => {
        closing.once('exit', () => resolve())
        closing.ref()
        closing.postMessage('close')
      })
    },
  }
  COMPUTING.set(store, computing)
  return computing
}
