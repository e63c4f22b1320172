import { once } from 'node:events'
import { type ListenOptions, type RunningServer, startServer } from '../main.ts'
import type { Deps } from '../platform/context.ts'
import { Refusal } from '../platform/refusal.ts'

/** Why a port cannot be had, in words. */
function whyNot(error: unknown, { host, port }: ListenOptions): unknown {
  const code = error instanceof Error && 'code' in error ? error.code : undefined
  switch (code) {
    case 'EADDRINUSE':
      return new Refusal(`Port ${port} is taken by another program. Name another with --port, or 0 for a free one.`)
    case 'EACCES':
      return new Refusal(`This user may not listen on port ${port}. Name one above 1023 with --port.`)
    case 'EADDRNOTAVAIL':
    case 'ENOTFOUND':
      return new Refusal(`This machine does not have the address ${host}. Name one of its own with --host.`)
    default:
      return error
  }
}

export async function listen(deps: Deps, options: ListenOptions): Promise<RunningServer> {
  try {
    return await startServer(deps, options)
  } catch (error) {
    deps.store.close()
    throw whyNot(error, options)
  }
}

/** Waits for Ctrl-C or a polite request to end, and then ends with grace: what has begun is answered first. */
export async function untilStopped(server: RunningServer): Promise<void> {
  const stop = new AbortController()
  await Promise.race(['SIGINT', 'SIGTERM'].map(signal => once(process, signal, { signal: stop.signal })))
  stop.abort()
  await server.stop()
}
