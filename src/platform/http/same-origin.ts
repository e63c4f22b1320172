import type { FastifyRequest } from 'fastify'
import { problem } from '../problems.ts'

const SAFE_METHODS = new Set(['GET', 'HEAD', 'OPTIONS'])

/**
 * Refuses a write that a page of another site sent with our cookie. A bearer token is no cookie: no site can make a browser
 * send it. Sec-Fetch-Site decides where the browser sends it (https and localhost only); on plain http Origin does. A client
 * that sends neither is no browser: every browser sends Origin with a POST.
 */
export function requireSameOrigin(request: FastifyRequest): void {
  if (SAFE_METHODS.has(request.method)) return
  if (request.headers.authorization !== undefined && request.headers.cookie === undefined) return
  const site = request.headers['sec-fetch-site']
  const { origin } = request.headers
  const isOurs =
    site !== undefined
      ? site === 'same-origin' || site === 'none'
      : origin === undefined || origin === `${request.protocol}://${request.host}`
  if (isOurs) return
  throw problem('cross-site', {
    detail:
      'Nothing was saved: the request did not come from a page of this program. Open the page here and send it again.',
  })
}
