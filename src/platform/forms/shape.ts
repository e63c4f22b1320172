import { z } from 'zod'
import { capital } from '../../core/words.ts'
import type { Choice } from '../pages/field.ts'

/**
 * The shape of a contract as its JSON Schema tells it: what forms and query strings are decoded by, and what form fields are
 * described from.
 */
export interface Shape {
  kind: 'string' | 'number' | 'integer' | 'boolean' | 'array' | 'object' | 'other'
  title: string | undefined
  description: string | undefined
  /** See contract.ts for these five, and for the labels below. */
  input: string | undefined
  unit: string | undefined
  classes: string | undefined
  autocomplete: string | undefined
  keep_empty: boolean
  in_thousands: boolean
  format: string | undefined
  words: string[] | undefined
  /** What the words are called on a page, where they do not read well by themselves. */
  labels: Record<string, string> | undefined
  min: number | undefined
  max: number | undefined
  max_length: number | undefined
  items: Shape | undefined
  fields: Map<string, Shape>
  required: Set<string>
}

interface JsonSchema {
  [member: string]: unknown
  $ref?: string
  $defs?: Record<string, JsonSchema>
  anyOf?: JsonSchema[]
  oneOf?: JsonSchema[]
  allOf?: JsonSchema[]
  properties?: Record<string, JsonSchema>
  required?: string[]
  items?: JsonSchema
  enum?: unknown[]
}

const KINDS = ['string', 'number', 'integer', 'boolean', 'array', 'object'] as const

/** `shapeOf`, worked out when the first request needs it: a program has hundreds of routes, and most starts serve few. */
export function shapeWhenNeeded(contract: z.ZodType): () => Shape {
  let made: Shape | undefined
  return () => {
    made ??= shapeOf(contract)
    return made
  }
}

export function shapeOf(contract: z.ZodType): Shape {
  const root = z.toJSONSchema(contract, { io: 'input', unrepresentable: 'any' }) as JsonSchema
  return shape(root, root.$defs ?? {}, root, 0)
}

function shape(given: JsonSchema, defs: Record<string, JsonSchema>, root: JsonSchema, depth: number): Shape {
  if (depth > 12) throw new Error('A contract for forms and queries may not refer to itself')
  const schema = flat(given, defs, root)
  const text = (name: string) => (typeof schema[name] === 'string' ? (schema[name] as string) : undefined)
  const number = (name: string) => (typeof schema[name] === 'number' ? (schema[name] as number) : undefined)
  const kind = KINDS.find(name => name === schema.type) ?? (schema.enum ? 'string' : 'other')
  const inner = (child: JsonSchema) => shape(child, defs, root, depth + 1)
  return {
    kind,
    title: text('title'),
    description: text('description'),
    input: text('input'),
    unit: text('unit'),
    classes: text('classes'),
    autocomplete: text('autocomplete'),
    keep_empty: schema.keep_empty === true,
    in_thousands: schema.in_thousands === true,
    format: text('format'),
    words: schema.enum?.map(String) ?? (typeof schema.const === 'string' ? [schema.const] : undefined),
    labels: schema.labels as Record<string, string> | undefined,
    min: number('minimum'),
    max: number('maximum'),
    max_length: number('maxLength'),
    items: schema.items === undefined ? undefined : inner(schema.items),
    fields: new Map(Object.entries(schema.properties ?? {}).map(([name, child]) => [name, inner(child)])),
    required: new Set(schema.required ?? []),
  }
}

/** What can be chosen, with the words of a page; undefined where anything may be written. */
export function wordsOf(shape: Shape): Choice[] | undefined {
  if (shape.kind === 'boolean' && shape.input === 'radios') {
    return [
      { value: 'true', label: 'Yes' },
      { value: 'false', label: 'No' },
    ]
  }
  return shape.words?.map(word => ({ value: word, label: shape.labels?.[word] ?? inWords(word) }))
}

/** 'second_person' is 'Second person'. */
export function inWords(word: string): string {
  return capital(word.replaceAll('_', ' '))
}

/** Follows references, takes `null` out of a choice, and lays the objects of a choice over each other. */
function flat(schema: JsonSchema, defs: Record<string, JsonSchema>, root: JsonSchema): JsonSchema {
  const { $ref, anyOf, oneOf, allOf, ...rest } = schema
  if ($ref !== undefined) {
    const target = $ref === '#' ? root : defs[$ref.replace('#/$defs/', '')]
    if (target === undefined) throw new Error(`${$ref} refers to nothing`)
    return { ...flat(target, defs, root), ...rest }
  }
  const branches = (anyOf ?? oneOf ?? allOf ?? [])
    .filter(branch => branch.type !== 'null')
    .map(branch => flat(branch, defs, root))
  const [first] = branches
  if (first === undefined) return rest
  if (branches.length === 1) return { ...first, ...rest }
  if (!branches.every(branch => branch.type === 'object')) return rest
  return {
    ...rest,
    type: 'object',
    properties: Object.assign({}, ...branches.map(branch => branch.properties ?? {})),
    required: allOf === undefined ? [] : branches.flatMap(branch => branch.required ?? []),
  }
}
