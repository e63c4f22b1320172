import { createSetupLink } from './accounts/index.ts'
import { type AppOptions, buildApp } from './app.ts'
import { contextFor, type Deps } from './platform/context.ts'
import { startComputing } from './platform/workers/computing.ts'

export interface ListenOptions extends AppOptions {
  host: string
  /** 0 takes any free port. */
  port: number
}

export interface RunningServer {
  app: Awaited<ReturnType<typeof buildApp>>
  /** `http://HOST:PORT`, with the port it took. */
  url: string
  /** The one-time address for the first owner, while nobody can sign in. */
  setupUrl: string | null
  /** Answers what has begun, then closes server and database. */
  stop(): Promise<void>
}

/** Builds the program on an open, migrated database and listens. The command line prints what it returns. */
export async function startServer(deps: Deps, { host, port, ...options }: ListenOptions): Promise<RunningServer> {
  const app = await buildApp(deps, options)
  const computing = startComputing(deps.store)
  await app.listen({ host, port })
  const address = app.server.address()
  const taken = typeof address === 'object' && address !== null ? address.port : port
  const url = `http://${host.includes(':') ? `[${host}]` : host}:${taken}`
  const secret = createSetupLink(contextFor(deps, null))
  return {
    app,
    url,
    setupUrl: secret === null ? null : `${url}/setup/${secret}`,
    async stop() {
      await app.close()
      await computing?.stop()
      deps.store.close()
    },
  }
}
