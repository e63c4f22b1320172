import { once } from 'node:events'
import { Worker } from 'node:worker_threads'

export interface Asked {
  method: 'GET' | 'POST'
  url: string
  headers: Record<string, string>
  body?: string
  /** The status that must come, or the measure fails. */
  expect: number
}

export interface Client {
  /** Sends all of them, so many at a time over kept connections, and returns how many were answered a second. */
  perSecond(requests: Asked[], atOnce: number): Promise<number>
  /** Sends one after another, and returns the milliseconds that each waited. */
  waits(requests: Asked[]): Promise<number[]>
  close(): Promise<void>
}

export function startClient(): Client {
  const worker = new Worker(new URL('./client.js', import.meta.url), { execArgv: [] })
  async function send(requests: Asked[], atOnce: number): Promise<{ seconds: number; waited: number[] }> {
    worker.postMessage({ requests, atOnce })
    const [answer] = (await once(worker, 'message')) as [{ seconds: number; waited: number[] } | { error: string }]
    if ('error' in answer) throw new Error(answer.error)
    return answer
  }
  return {
    perSecond: async (requests, atOnce) => requests.length / (await send(requests, atOnce)).seconds,
    waits: async requests => (await send(requests, 1)).waited,
    async close() {
      await worker.terminate()
    },
  }
}
