import helmet from '@fastify/helmet'
import Fastify, { type FastifyInstance } from 'fastify'

/**
 * Security headers of our own choosing. Helmet's defaults would make a browser on plain http in a workshop's network load
 * nothing (upgrade-insecure-requests), refuse our own forms (no-referrer makes Origin null), and lock the workshop out for
 * good after a lost certificate (Strict-Transport-Security).
 */
const OPTIONS = {
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      'default-src': ["'self'"],
      'img-src': ["'self'", 'data:', 'blob:'],
      'object-src': ["'none'"],
      'base-uri': ["'none'"],
      'form-action': ["'self'"],
      'frame-ancestors': ["'none'"],
    },
  },
  referrerPolicy: { policy: 'same-origin' },
  strictTransportSecurity: false,
  crossOriginOpenerPolicy: false,
  originAgentCluster: false,
} as const

/** The same for every answer, so helmet is asked once: it would work each header out anew for each request. */
const HEADERS = await headersOfHelmet()

async function headersOfHelmet(): Promise<Record<string, string>> {
  const asked = Fastify()
  await asked.register(helmet, OPTIONS)
  asked.get('/', async (_request, reply) => reply.raw.getHeaders())
  const answer = await asked.inject('/')
  await asked.close()
  return answer.json<Record<string, string>>()
}

export function securityHeaders(app: FastifyInstance): void {
  app.addHook('onRequest', async (_request, reply) => {
    reply.headers(HEADERS)
  })
}
