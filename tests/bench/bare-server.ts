import Fastify, { type FastifyInstance } from 'fastify'

/** A fastify that does nothing of its own, listening on a free port: the floor below every page and write. */
export async function listening(app: FastifyInstance): Promise<{ url: string }> {
  await app.listen({ host: '127.0.0.1', port: 0 })
  const address = app.server.address()
  if (address === null || typeof address === 'string') throw new Error('A server that listens has a port')
  return { url: `http://127.0.0.1:${address.port}` }
}

export function bareServer(): FastifyInstance {
  return Fastify({ logger: { level: 'error', stream: process.stderr } })
}
