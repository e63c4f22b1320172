import fastifyStatic from '@fastify/static'
import type { FastifyInstance, FastifyReply } from 'fastify'
import { z } from 'zod'
import { type Context, contextFor } from '../context.ts'
import type { Api, ParamsOf } from './api-types.ts'
import { asPerson, type Pages, pageContext } from './pages.ts'
import { PROBLEM_ANSWERS } from './problem-answers.ts'
import { requireActor } from './session.ts'

/** A file of the record, as it goes out. */
export type FileAnswer = { media_type: string; file_name: string } & (
  | { folder: string; name: string }
  | { bytes: Buffer }
)

export interface FileRoute<Url extends string> {
  url: Url
  handle(ctx: Context, input: { params: ParamsOf<Url> }): FileAnswer | Promise<FileAnswer>
}

/** A browser keeps it for a year, and no cache that others use does: what is behind an address never changes. */
const KEPT_BY_ONE = 'private, max-age=31536000, immutable'

/** Sends files from the disk in byte ranges, so that a telephone can play and seek in a recording. Once, for both faces. */
export async function serveFiles(app: FastifyInstance): Promise<void> {
  await app.register(fastifyStatic, { serve: false })
}

/** A file for whoever is signed in, as a page shows it. */
export function pageFile<Url extends string>(pages: Pages, route: FileRoute<Url>): void {
  pages.app.get(route.url, { onRequest: asPerson(pages) }, async (request, reply) =>
    sendFile(reply, await route.handle(pageContext(pages, request), { params: request.params as ParamsOf<Url> })),
  )
}

/** The same for the API, with its place in the API document. */
export function apiFile<Url extends string>(api: Api, route: FileRoute<Url> & { summary: string }): void {
  const content = { '*/*': { schema: z.unknown() } }
  const schema = {
    tags: [route.url.split('/')[1] ?? ''],
    summary: route.summary,
    response: {
      200: { description: 'The bytes, whole', content },
      206: { description: 'Those asked for by Range', content },
      ...PROBLEM_ANSWERS,
    },
  }
  const onRequest = async (request: Parameters<typeof requireActor>[0]) => {
    requireActor(request)
  }
  api.app.get(route.url, { schema, onRequest }, async (request, reply) => {
    const ctx = contextFor(api.deps, requireActor(request))
    return sendFile(reply, await route.handle(ctx, { params: request.params as ParamsOf<Url> }))
  })
}

function sendFile(reply: FastifyReply, answer: FileAnswer): FastifyReply {
  reply
    .header('content-type', answer.media_type)
    .header('cache-control', KEPT_BY_ONE)
    .header('content-disposition', `inline; filename="${answer.file_name}"`)
  if ('bytes' in answer) return reply.send(answer.bytes)
  return reply.sendFile(answer.name, answer.folder, {
    contentType: false,
    cacheControl: false,
    lastModified: false,
    acceptRanges: true,
  })
}
