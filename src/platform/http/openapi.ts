import swagger from '@fastify/swagger'
import type { FastifyInstance, FastifySchema } from 'fastify'
import { z } from 'zod'

type JsonSchema = Record<string, unknown>

const REFERENCE = '#/components/schemas/'
/** Keys of `.meta` that speak to forms, and the identity marks that zod sets: neither belongs in the document. */
const NOT_FOR_THE_DOCUMENT = new Set([
  'id',
  '$id',
  '$schema',
  'input',
  'unit',
  'classes',
  'autocomplete',
  'keep_empty',
  'labels',
])
/** Keywords under which names of fields stand, which may be called anything. */
const BY_NAME = new Set(['properties', '$defs'])

/**
 * Gathers every route of /api for one OpenAPI 3.1 document. A contract means the same sent and received,
 * so each schema with `.meta({ id })` stands once under components.
 */
export async function describeApi(app: FastifyInstance, version: string): Promise<void> {
  await app.register(swagger, {
    hideUntagged: true,
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Witness Mark',
        version,
        description:
          'The work-order and history server of a vehicle workshop. JSON is snake_case; money is integer minor units; instants are ISO 8601 UTC; days YYYY-MM-DD; torque N·m, force N, lengths km or mm. Errors are RFC 9457 problem documents.',
      },
      servers: [{ url: '/' }],
      components: { securitySchemes: { token: { type: 'http', scheme: 'bearer' } } },
      security: [{ token: [] }],
    },
    transform: ({ schema, url }) => ({ url, schema: schema === undefined ? schema : asJsonSchemas(schema) }),
  })
}

/** The document, once every route is registered (after `app.ready()`). */
export function apiDocument(app: FastifyInstance): object {
  const document = app.swagger() as { components?: object }
  return { ...document, components: { ...document.components, schemas: namedSchemas() } }
}

/** Replaces each zod schema of a route by its JSON Schema. */
function asJsonSchemas(schema: FastifySchema): FastifySchema {
  const { body, querystring, headers, response, ...rest } = schema
  return {
    ...rest,
    ...(body instanceof z.ZodType && { body: jsonSchemaOf(body) }),
    ...(querystring instanceof z.ZodType && { querystring: parametersOf(querystring) }),
    ...(headers instanceof z.ZodType && { headers: parametersOf(headers) }),
    ...(response !== undefined && { response: mapValues(response as JsonSchema, answer) }),
  }
}

/** Either a schema, or what `content` says for each kind of body. */
function answer(given: unknown): unknown {
  if (given instanceof z.ZodType) return jsonSchemaOf(given)
  const { description, content } = given as { description: string; content: Record<string, { schema: z.ZodType }> }
  return {
    description,
    content: mapValues(content, body => ({ schema: jsonSchemaOf((body as { schema: z.ZodType }).schema) })),
  }
}

function jsonSchemaOf(schema: z.ZodType): JsonSchema {
  const id = z.globalRegistry.get(schema)?.id
  if (id !== undefined) return { $ref: REFERENCE + id }
  const { $defs: _, ...rest } = z.toJSONSchema(schema, { unrepresentable: 'any' }) as JsonSchema
  return tidied(rest) as JsonSchema
}

/** Each parameter stands by itself in the document, so nothing in it is a reference. */
function parametersOf(schema: z.ZodType): JsonSchema {
  const { $defs = {}, ...rest } = z.toJSONSchema(schema, { unrepresentable: 'any' }) as JsonSchema
  return tidied(withoutReferences(rest, $defs as JsonSchema)) as JsonSchema
}

function withoutReferences(value: unknown, defs: JsonSchema): unknown {
  if (Array.isArray(value)) return value.map(item => withoutReferences(item, defs))
  if (typeof value !== 'object' || value === null) return value
  const { $ref, ...rest } = value as JsonSchema
  if (typeof $ref === 'string')
    return withoutReferences({ ...(defs[$ref.replace('#/$defs/', '')] as object), ...rest }, defs)
  return mapValues(value, member => withoutReferences(member, defs))
}

function namedSchemas(): Record<string, JsonSchema> {
  const { schemas } = z.toJSONSchema(z.globalRegistry, { unrepresentable: 'any', uri: id => REFERENCE + id })
  return mapValues(schemas, tidied) as Record<string, JsonSchema>
}

function tidied(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(tidied)
  if (typeof value !== 'object' || value === null) return value
  const kept = Object.entries(value).filter(([name]) => !NOT_FOR_THE_DOCUMENT.has(name))
  return Object.fromEntries(
    kept.map(([name, member]) => {
      if (name === '$ref') return [name, String(member).replace('#/$defs/', REFERENCE)]
      if (BY_NAME.has(name)) return [name, mapValues(member as JsonSchema, tidied)]
      return [name, name === 'enum' || name === 'const' || name === 'default' ? member : tidied(member)]
    }),
  )
}

function mapValues(object: object, change: (value: unknown) => unknown): JsonSchema {
  return Object.fromEntries(Object.entries(object).map(([name, value]) => [name, change(value)]))
}
