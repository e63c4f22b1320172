import type { FastifyInstance } from 'fastify'
import { accountsApi } from './accounts/api.ts'
import { actorOfToken, putNotice, sessionOf, settingsOf } from './accounts/index.ts'
import { accountsPages } from './accounts/pages.ts'
import { fasteningApi } from './fastening/api.ts'
import { findingsApi } from './findings/api.ts'
import type { Deps } from './platform/context.ts'
import { buildServer, type Face } from './platform/http/server.ts'

/** The JSON faces of the capabilities, in the order in which they may know each other. */
const APIS: Face['apis'] = [accountsApi, fasteningApi, findingsApi]

/** Their HTML faces. */
const PAGES: Face['pages'] = [accountsPages]

export interface AppOptions {
  /** Read templates again for each page, for whoever is writing them. */
  dev?: boolean
}

/** What the server is told about the capabilities; a test may add routes of its own. */
export function faceOf(deps: Deps, { dev = false }: AppOptions = {}): Face {
  const read = deps.store.read
  return {
    door: {
      sessionOf: secret => sessionOf({ read, clock: deps.clock }, secret),
      actorOfToken: token => actorOfToken({ read }, token),
    },
    house: () => settingsOf({ read }),
    putNotice,
    apis: APIS,
    pages: PAGES,
    dev,
  }
}

/** The composition root: plain objects handed down, every capability registered by hand. */
export async function buildApp(deps: Deps, options: AppOptions = {}): Promise<FastifyInstance> {
  return buildServer(deps, faceOf(deps, options))
}
