import helmet from '@fastify/helmet'
import type { FastifyInstance } from 'fastify'

/**
 * Security headers of our own choosing. Helmet's defaults would make a browser on plain http in a workshop's network load
 * nothing (upgrade-insecure-requests), refuse our own forms (no-referrer makes Origin null), and lock the workshop out for
 * good after a lost certificate (Strict-Transport-Security).
 */
export async function securityHeaders(app: FastifyInstance): Promise<void> {
  await app.register(helmet, {
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
  })
}
