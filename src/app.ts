import type { FastifyInstance } from 'fastify'
import { accountsApi } from './accounts/api.ts'
import { actorOfToken, putNotice, sessionOf, settingsOf } from './accounts/index.ts'
import { accountsPages } from './accounts/pages.ts'
import { attachmentsApi } from './attachments/api.ts'
import { attachmentsPages } from './attachments/pages.ts'
import { catalogueApi } from './catalogue/api.ts'
import { cataloguePages } from './catalogue/pages.ts'
import { comebacksApi } from './comebacks/api.ts'
import { confirmedFailures } from './comebacks/index.ts'
import { comebacksPages } from './comebacks/pages.ts'
import { fasteningApi } from './fastening/api.ts'
import { toolUse } from './fastening/index.ts'
import { fasteningPages } from './fastening/pages.ts'
import { findingsApi } from './findings/api.ts'
import { handBackApi } from './hand-back/api.ts'
import { benchPages } from './hand-back/pages/bench.ts'
import { handBackPages } from './hand-back/pages.ts'
import { historyApi } from './history/api.ts'
import { monthReviewApi } from './month-review/api.ts'
import { monthReviewPages } from './month-review/pages.ts'
import { partsApi } from './parts/api.ts'
import { partsPages } from './parts/pages.ts'
import type { Deps } from './platform/context.ts'
import { buildServer, type Face, readTemplates, type Templates } from './platform/http/server.ts'
import { recurringFailuresApi } from './recurring-failures/api.ts'
import { recurringFailuresPages } from './recurring-failures/pages.ts'
import { takeInApi } from './take-in/api.ts'
import { takeInPages } from './take-in/pages.ts'
import { toolsApi } from './tools/api.ts'
import { toolsPages } from './tools/pages.ts'
import { vehiclesApi } from './vehicles/api.ts'
import { vehiclesPages } from './vehicles/pages.ts'
import { warrantyApi } from './warranty/api.ts'
import { warrantyPages } from './warranty/pages.ts'
import { workOrdersApi } from './work-orders/api.ts'
import { jointsByRevision } from './work-orders/index.ts'

/** The JSON faces of the capabilities, in the order in which they may know each other. */
const APIS: Face['apis'] = [
  accountsApi,
  vehiclesApi,
  catalogueApi,
  partsApi,
  api => toolsApi(api, toolUse),
  workOrdersApi,
  fasteningApi,
  findingsApi,
  attachmentsApi,
  handBackApi,
  historyApi,
  recurringFailuresApi,
  comebacksApi,
  warrantyApi,
  takeInApi,
  monthReviewApi,
]

/** Their HTML faces. */
const PAGES: Face['pages'] = [
  accountsPages,
  vehiclesPages,
  pages => cataloguePages(pages, jointsByRevision),
  partsPages,
  pages => toolsPages(pages, toolUse),
  attachmentsPages,
  fasteningPages,
  pages => recurringFailuresPages(pages, confirmedFailures),
  comebacksPages,
  warrantyPages,
  benchPages,
  handBackPages,
  takeInPages,
  monthReviewPages,
]

export interface AppOptions {
  /** Read templates again for each page, for whoever is writing them. */
  dev?: boolean
}

/** What the server is told about the capabilities; a test may add routes of its own. */
export function faceOf(deps: Deps, templates: Templates): Face {
  return {
    door: {
      sessionOf: secret => sessionOf({ read: deps.store.read, clock: deps.clock }, secret),
      actorOfToken: token => actorOfToken({ read: deps.store.read }, token),
    },
    house: () => settingsOf({ read: deps.store.read }),
    putNotice,
    apis: APIS,
    pages: PAGES,
    templates,
  }
}

/** The composition root: plain objects handed down, every capability registered by hand. */
export async function buildApp(deps: Deps, { dev = false }: AppOptions = {}): Promise<FastifyInstance> {
  return buildServer(deps, faceOf(deps, readTemplates(dev)))
}
