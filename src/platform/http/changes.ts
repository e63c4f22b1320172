import { Readable } from 'node:stream'
import { setInterval } from 'node:timers/promises'
import { writesSoFar } from '../database/unwritten.ts'
import { asPerson, type Pages } from './pages.ts'

const LOOK_EVERY_MS = 400
/** A comment now and then, so that nothing between server and screen takes the line for dead. */
const ALIVE_EVERY_MS = 20_000

/**
 * Server-sent events for whoever shows what is here now: "changed" within half a second of a write by anybody, in this process or
 * in another. What has changed is for the page to ask, with the rights of who is signed in there.
 */
export function changesRoute(pages: Pages): void {
  pages.app.get('/changes', { onRequest: asPerson(pages) }, async (_request, reply) => {
    const left = new AbortController()
    reply.raw.once('close', () => left.abort())
    return reply
      .header('content-type', 'text/event-stream')
      .header('cache-control', 'no-store')
      .send(Readable.from(changes(pages, left.signal)))
  })
}

async function* changes({ deps }: Pages, left: AbortSignal): AsyncGenerator<string> {
  const { read } = deps.store
  let seen = writesSoFar(read)
  let quietMs = 0
  yield ': here\n\n'
  try {
    for await (const _ of setInterval(LOOK_EVERY_MS, null, { signal: left, ref: false })) {
      const now = writesSoFar(read)
      quietMs = now === seen ? quietMs + LOOK_EVERY_MS : 0
      if (now !== seen) yield 'data: changed\n\n'
      else if (quietMs % ALIVE_EVERY_MS === 0) yield ': still here\n\n'
      seen = now
    }
  } catch (error) {
    if (!left.aborted) throw error
  }
}
