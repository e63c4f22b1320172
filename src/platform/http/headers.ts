import type { FastifyInstance } from 'fastify'

/**
 * Security headers of our own choosing. The defaults that are usual elsewhere would make a browser on plain http in a
 * workshop's network load nothing (upgrade-insecure-requests), refuse our own forms (no-referrer makes Origin null), and lock
 * the workshop out for good after a lost certificate (Strict-Transport-Security).
 */
const SECURITY_HEADERS = {
  'content-security-policy': [
    "default-src 'self'",
    "img-src 'self' data: blob:",
    "object-src 'none'",
    "base-uri 'none'",
    "form-action 'self'",
    "frame-ancestors 'none'",
  ].join(';'),
  'cross-origin-resource-policy': 'same-origin',
  'referrer-policy': 'same-origin',
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
}

export function securityHeaders(app: FastifyInstance): void {
  app.addHook('onRequest', async (_request, reply) => {
    reply.headers(SECURITY_HEADERS)
  })
}
