import { decimal } from '../../core/decimal.ts'
import { parseMinor } from '../../core/money.ts'
import { instantOfLocal } from './local-time.ts'
import { pathOfName, type Typed } from './names.ts'
import type { Shape } from './shape.ts'

/** How the workshop writes money and time. Without it (queries, CSV) amounts are minor units and instants ISO text. */
export interface Habits {
  locale: string
  currency: string
  time_zone: string
}

export interface DecodeOptions {
  habits?: Habits
  /** Forms do not send a box that is not ticked: it becomes false. Not so in queries. */
  unticked?: boolean
}

interface Tree {
  values: string[]
  children: Map<string, Tree>
}

const MAX_LIST = 500
const NUMBER = /^[-−]?(?:\d+|\d{1,3}(?:[ \u00a0\u202f\u2009]\d{3})+)(?:[.,]\d+)?(?:e[+-]?\d+)?$/i
/** A comma before exactly three digits may be a thousands mark: such a text is left as it is, and zod refuses it. */
const AMBIGUOUS = /^[-−]?[1-9]\d{0,2},\d{3}$/
/** So may a point, where thousands are usual. */
const POINT_OR_THOUSANDS = /^[1-9]\d{0,2}\.\d{3}$/

/**
 * Strings, as a form, a query or a CSV row has them, to the JSON that a contract describes. '' is absent, texts are trimmed,
 * "12,5" is 12.5, a single value of a list is a list, `lines[0][quantity]` is nested. What cannot be read as its kind stays
 * the text it is, so that the contract's own check reports it where it stands. Names the contract lacks are kept, too.
 */
export function decode(typed: Typed, shape: Shape, options: DecodeOptions = {}): unknown {
  const tree: Tree = { values: [], children: new Map() }
  for (const [name, value] of Object.entries(typed)) {
    const path = pathOfName(name) ?? [name]
    let place = tree
    for (const part of path.slice(0, 12)) {
      const next = place.children.get(part) ?? { values: [], children: new Map() }
      place.children.set(part, next)
      place = next
    }
    place.values.push(...(Array.isArray(value) ? value : [value]))
  }
  return object(tree, shape, options)
}

function object(tree: Tree, shape: Shape, options: DecodeOptions): Record<string, unknown> {
  const entries: [string, unknown][] = []
  for (const [name, child] of tree.children) {
    const value = any(child, shape.fields.get(name), options)
    if (value !== undefined) entries.push([name, value])
  }
  for (const [name, field] of shape.fields) {
    const isUnticked =
      options.unticked && field.kind === 'boolean' && field.input !== 'radios' && !tree.children.has(name)
    if (isUnticked) entries.push([name, false])
  }
  return Object.fromEntries(entries)
}

function any(tree: Tree, shape: Shape | undefined, options: DecodeOptions): unknown {
  if (shape?.kind === 'array') return list(tree, shape, options)
  if (shape?.kind === 'object' || (tree.children.size > 0 && tree.values.length === 0)) {
    const empty = shape ?? { fields: new Map<string, Shape>() }
    const value = object(tree, empty as Shape, options)
    return isBlank(tree) ? undefined : value
  }
  const [only = ''] = tree.values
  if (tree.values.length > 1)
    return shape?.kind === 'boolean' ? scalar(tree.values.at(-1) ?? '', shape, options) : tree.values
  return scalar(only, shape, options)
}

/** Rows of a form that were left empty are no rows. */
function isBlank(tree: Tree): boolean {
  return tree.values.every(value => value.trim() === '') && [...tree.children.values()].every(isBlank)
}

function list(tree: Tree, shape: Shape, options: DecodeOptions): unknown[] | undefined {
  const numbered = [...tree.children]
    .filter(([index]) => /^\d{1,4}$/.test(index))
    .sort(([a], [b]) => Number(a) - Number(b))
    .slice(0, MAX_LIST)
    .map(([, child]) => any(child, shape.items, options))
  const listed = tree.values.map(value => scalar(value, shape.items, options))
  const items = [...listed, ...numbered].filter(value => value !== undefined)
  return items.length === 0 ? undefined : items
}

function scalar(raw: string, shape: Shape | undefined, options: DecodeOptions): unknown {
  const text = raw.trim()
  if (text === '') return shape?.keep_empty ? '' : undefined
  if (shape === undefined) return text
  const { habits } = options
  if (habits !== undefined && shape.input === 'money') return parseMinor(text, habits.locale, habits.currency) ?? text
  if (habits !== undefined && shape.input === 'percent') return basisPoints(text)
  if (habits !== undefined && shape.format === 'date-time') return instantOfLocal(text, habits.time_zone) ?? text
  if (shape.kind === 'number' || shape.kind === 'integer')
    return (shape.in_thousands && POINT_OR_THOUSANDS.test(text) ? null : readNumber(text)) ?? text
  if (shape.kind === 'boolean') return boolean(text)
  // a textarea sends line ends as CR LF
  return text.replaceAll('\r\n', '\n')
}

/** A number as people type it: 12.5, 12,5, 1 250. Null for what is none, or could be two. */
export function readNumber(text: string): number | null {
  if (!NUMBER.test(text) || AMBIGUOUS.test(text)) return null
  const value = Number(
    text
      .replace(/[ \u00a0\u202f\u2009]/g, '')
      .replace(',', '.')
      .replace('−', '-'),
  )
  return Number.isFinite(value) ? value : null
}

function basisPoints(text: string): number | string {
  const percent = readNumber(text.replace(/\s*%$/, ''))
  if (percent === null) return text
  const { units, places } = decimal(percent)
  const scaled = units * 100n
  const divisor = 10n ** BigInt(places)
  return scaled % divisor === 0n ? Number(scaled / divisor) : text
}

function boolean(text: string): boolean | string {
  if (text === 'true' || text === 'on' || text === 'yes' || text === '1') return true
  if (text === 'false' || text === 'off' || text === 'no' || text === '0') return false
  return text
}
