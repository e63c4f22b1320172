import { randomUUID } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import cookie from '@fastify/cookie'
import formbody from '@fastify/formbody'
import multipart from '@fastify/multipart'
import Fastify, { type FastifyBaseLogger, type FastifyInstance, LogController } from 'fastify'
import { contextFor, type Deps } from '../context.ts'
import { write } from '../database/unit-of-work.ts'
import type { Habits } from '../forms/decode.ts'
import { type Assets, loadAssets } from '../pages/assets.ts'
import { patternsView } from '../pages/patterns.ts'
import { createRenderer, type Renderer } from '../pages/renderer.ts'
import { packageRoot } from '../paths.ts'
import { problem } from '../problems.ts'
import type { Api } from './api-route.ts'
import { changesRoute } from './changes.ts'
import { sendApiProblem } from './errors.ts'
import { securityHeaders } from './headers.ts'
import { takeJson } from './json-body.ts'
import { apiDocument, describeApi } from './openapi.ts'
import { type Pages, sendPage, sendPageProblem } from './pages.ts'
import { problemPages } from './problem-pages.ts'
import { requireSameOrigin } from './same-origin.ts'
import { type Doorkeeper, decorateRequests, seeSession, seeTokenOrSession } from './session.ts'
import { serveFiles } from './stored-files.ts'

const BODY_LIMIT = 1024 * 1024
const FOR_EVER = 'public, max-age=31536000, immutable'

/** What the server shows: given by app.ts, since plumbing knows no capability. */
export interface Face {
  door: Doorkeeper
  /** The workshop's name and habits, as they are now. */
  house(): Habits & { name: string; place?: string | undefined; address?: string | undefined }
  putNotice: Pages['putNotice']
  apis: ((api: Api) => void)[]
  pages: ((pages: Pages) => void)[]
  templates: Templates
}

export interface Templates {
  renderer: Renderer
  assets: Assets
}

export const templatesDir = join(packageRoot, 'templates')

/** Reads and compiles everything under templates/. `dev` does so again for each page, for whoever is writing them. */
export function readTemplates(dev: boolean): Templates {
  return { renderer: createRenderer({ templatesDir, dev }), assets: loadAssets(join(templatesDir, 'assets')) }
}

/**
 * Two scopes, each with handlers of its own for errors and for what is not found: /api speaks problem documents, everything
 * else pages. The order of a request: headers, same-origin check, who asks, then the route.
 */
export async function buildServer(deps: Deps, face: Face): Promise<FastifyInstance> {
  const app: FastifyInstance = Fastify({
    loggerInstance: deps.log as FastifyBaseLogger,
    // our own line below has the pattern of the address: the secret of a set-up link is not written down
    logController: new LogController({ disableRequestLogging: true }),
    genReqId: () => randomUUID(),
    bodyLimit: BODY_LIMIT,
    routerOptions: { maxParamLength: 500 },
    forceCloseConnections: true,
    // a clip of sixty megabytes over the wireless of a workshop
    requestTimeout: 300_000,
    frameworkErrors: (error, request, reply) => sendApiProblem(error, request, reply),
  })
  securityHeaders(app)
  await app.register(cookie)
  decorateRequests(app)
  app.addHook('onRequest', async request => requireSameOrigin(request))
  app.addHook('onResponse', async (request, reply) => {
    const { method, routeOptions } = request
    request.log.info({ method, url: routeOptions.url, status: reply.statusCode, ms: reply.elapsedTime }, 'answered')
  })
  await serveFiles(app)
  await describeApi(app, versionOfPackage())
  await app.register(async scope => apiScope(scope, deps, face), { prefix: '/api' })
  await app.register(async scope => pageScope(scope, deps, face))
  return app
}

async function apiScope(app: FastifyInstance, deps: Deps, face: Face): Promise<void> {
  app.setErrorHandler((error, request, reply) => sendApiProblem(error, request, reply))
  app.setNotFoundHandler((request, reply) => {
    const detail = `There is nothing at ${request.method} ${request.url.split('?')[0]}.`
    sendApiProblem(problem('not-found', { detail }), request, reply)
  })
  // contracts are checked by our own routes, which know where each field stands
  app.setValidatorCompiler(() => value => ({ value }))
  app.setSerializerCompiler(() => value => JSON.stringify(value))
  takeJson(app)
  await takeUploads(app)
  app.addHook('onRequest', seeTokenOrSession(face.door))
  app.get('/openapi.json', async (_request, reply) =>
    reply.header('content-type', 'application/json').send(JSON.stringify(apiDocument(app))),
  )
  for (const register of face.apis) register({ app, deps })
}

async function pageScope(app: FastifyInstance, deps: Deps, face: Face): Promise<void> {
  const { assets } = face.templates
  const pages = pagesOf(app, deps, face)
  app.removeAllContentTypeParsers()
  await app.register(formbody)
  await takeUploads(app)
  app.addHook('onRequest', seeSession(face.door))
  app.setErrorHandler((error, request, reply) => sendPageProblem(pages, error, request, reply))
  app.setNotFoundHandler((request, reply) => {
    sendPageProblem(pages, problem('not-found', { detail: 'There is no page at this address.' }), request, reply)
  })
  app.get('/healthz', async (_request, reply) => {
    deps.store.raw.prepare('select 1').get()
    return reply.header('cache-control', 'no-store').send({ status: 'ok' })
  })
  serveAssets(app, assets)
  app.get('/patterns', async (request, reply) =>
    sendPage(pages, request, reply, {
      template: 'patterns/index',
      sheet: { title: 'Patterns' },
      view: patternsView(templatesDir),
    }),
  )
  problemPages(pages)
  changesRoute(pages)
  for (const register of face.pages) register(pages)
}

/** The folder is named after what is in it, so that a browser may keep each file for ever. */
function serveAssets(app: FastifyInstance, assets: Assets): void {
  app.get(`/assets/${assets.hash}/*`, async (request, reply) => {
    const asset = assets.get((request.params as { '*': string })['*'])
    if (asset === null) throw problem('not-found', { detail: 'There is no such file.' })
    return reply.header('content-type', asset.type).header('cache-control', FOR_EVER).send(asset.content)
  })
}

function pagesOf(app: FastifyInstance, deps: Deps, face: Face): Pages {
  return {
    app,
    deps,
    renderer: face.templates.renderer,
    habits: () => face.house(),
    base(request) {
      const { name, place = '', address = '' } = face.house()
      const { actor, session } = request
      // a screen that keeps itself up to date is not who the notice is for
      const notice = request.headers['x-asked-by'] === 'screen' ? null : (session?.notice ?? null)
      if (session !== null && notice !== null) {
        const ctx = contextFor(deps, actor)
        write(ctx, tx => face.putNotice(ctx, tx, session.id, null))
      }
      return {
        house: { name, place, address },
        signed_in: actor === null ? null : { name: actor.name, role: actor.role },
        asset: `/assets/${face.templates.assets.hash}`,
        notice,
      }
    },
    putNotice: face.putNotice,
  }
}

async function takeUploads(app: FastifyInstance): Promise<void> {
  await app.register(multipart, { limits: { fields: 500 }, throwFileSizeLimit: false })
}

function versionOfPackage(): string {
  const text = readFileSync(join(packageRoot, 'package.json'), 'utf8')
  return (JSON.parse(text) as { version: string }).version
}
