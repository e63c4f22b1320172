import type Database from 'better-sqlite3'
import { Column, getTableName, is, noopDecoder, Param, Placeholder, SQL, Subquery } from 'drizzle-orm'

/** What drizzle keeps in a prepared statement. */
interface Prepared {
  query: { params: unknown[] }
  stmt: {
    run(...bound: unknown[]): unknown
    raw(): { all(...bound: unknown[]): unknown[][]; get(...bound: unknown[]): unknown[] | undefined }
  }
  run(values?: Values): unknown
}
/** And in a select: how each column of a row becomes a field. */
interface PreparedSelect extends Prepared {
  fields: { path: string[]; field: Column | SQL | SQL.Aliased | Subquery }[]
  joinsNotNullableMap?: Record<string, boolean>
  customResultMapper?: unknown
  all(values?: Values): unknown[]
  get(values?: Values): unknown
}
type Values = Record<string, unknown>
type Decode = (value: unknown) => unknown

/**
 * The same prepared statement, with what drizzle works out anew for each value that it binds and each cell of each row (which
 * kind of column it is, how its value is read, which joined table was absent) worked out once. That is most of the time of a
 * short query. Anything that drizzle has not prepared, or that it reads in a way of its own, is handed back as it came.
 */
export function quickened<T>(prepared: T): T {
  const statement = prepared as Prepared
  if (!Array.isArray(statement?.query?.params)) return prepared
  const bind = binder(statement.query.params)
  const { stmt } = statement
  if (!isSelect(statement)) {
    statement.run = values => stmt.run(...bind(values))
    return prepared
  }
  const select = statement
  if (select.customResultMapper !== undefined) return prepared
  const toRow = rowReader(select)
  select.all = values =>
    stmt
      .raw()
      .all(...bind(values))
      .map(toRow)
  select.get = values => {
    const cells = stmt.raw().get(...bind(values))
    return cells === undefined ? undefined : toRow(cells)
  }
  return prepared
}

/**
 * All rows of a statement of the raw connection, as objects by the names of its columns: better-sqlite3's own objects take
 * twice as long to make.
 */
export function rowsOf<Row>(statement: Database.Statement): (...bound: unknown[]) => Row[] {
  const members = statement.columns().map(({ name }, at) => `${JSON.stringify(name)}: cells[${at}]`)
  const toRow = new Function('cells', `return ${literal(members)}`) as (cells: unknown) => Row
  const raw = statement.raw()
  return (...bound) => raw.all(...bound).map(toRow)
}

function isSelect(statement: Prepared): statement is PreparedSelect {
  return Array.isArray((statement as PreparedSelect).fields)
}

function binder(params: readonly unknown[]): (values?: Values) => unknown[] {
  const binders = params.map((param): ((values: Values) => unknown) => {
    if (is(param, Placeholder)) return values => given(values, param.name)
    if (is(param, Param) && is(param.value, Placeholder)) {
      const { encoder, value } = param
      return values => encoder.mapToDriverValue(given(values, value.name))
    }
    return () => param
  })
  return (values = {}) => binders.map(each => each(values))
}

function given(values: Values, name: string): unknown {
  if (!(name in values)) throw new Error(`No value for placeholder "${name}" was provided`)
  return values[name]
}

interface Cell {
  name: string
  /** Its place in the row that SQLite gives. */
  at: number
}

/**
 * Makes a row of its cells. The function is written out as text, one literal with all its names (`{ id: cells[0], … }`): such
 * an object has one shape from the start, where one that is filled name by name costs several times as much. The names are
 * those of drizzle's columns and of our own selects, never anything from outside.
 */
function rowReader({ fields, joinsNotNullableMap }: PreparedSelect): (cells: unknown[]) => Values {
  const decoders = fields.map(({ field }) => decoderOf(field))
  const flat: Cell[] = []
  const joined = new Map<string, Cell[]>()
  const deeper = fields.some(({ path }) => path.length > 2)
  if (deeper) throw new RangeError('A hot query selects columns, or tables of columns')
  for (const [at, { path }] of fields.entries()) {
    const [first = '', second] = path
    if (second === undefined) flat.push({ name: first, at })
    else joined.set(first, [...(joined.get(first) ?? []), { name: second, at }])
  }
  const tables = [...joined].map(([name, cells]) => {
    const absent = absentAt(cells)
    return `${JSON.stringify(name)}: ${absent < 0 ? '' : `cells[${absent}] === null ? null : `}${literal(cells.map(member))}`
  })
  return new Function('decoders', `return cells => (${literal([...flat.map(member), ...tables])})`)(decoders)

  function member({ name, at }: Cell): string {
    const value = `cells[${at}]`
    return `${JSON.stringify(name)}: ${decoders[at] === null ? value : `${value} === null ? null : decoders[${at}](${value})`}`
  }

  /** The cell by which it is seen that an outer join found nothing: the first of its table's; -1 when it cannot be absent. */
  function absentAt(cells: readonly Cell[]): number {
    const own = cells.flatMap(({ at }) => {
      const { field } = fields[at]!
      return is(field, Column) ? [{ at, table: getTableName(field.table) }] : []
    })
    const [first] = own
    if (joinsNotNullableMap === undefined || first === undefined) return -1
    const isOneTable = own.every(({ table }) => table === first.table)
    return isOneTable && !joinsNotNullableMap[first.table] ? first.at : -1
  }
}

function literal(members: readonly string[]): string {
  return `{ ${members.join(', ')} }`
}

/** Null where a value is taken as it is. */
function decoderOf(field: PreparedSelect['fields'][number]['field']): Decode | null {
  const decoder = is(field, Column)
    ? field
    : is(field, SQL)
      ? internals(field).decoder
      : is(field, Subquery)
        ? internals(field._.sql as SQL).decoder
        : internals((field as SQL.Aliased).sql).decoder
  const isPlain = decoder === noopDecoder || decoder.mapFromDriverValue === Column.prototype.mapFromDriverValue
  return isPlain ? null : value => decoder.mapFromDriverValue(value)
}

function internals(sql: SQL): { decoder: { mapFromDriverValue(value: unknown): unknown } } {
  return sql as unknown as ReturnType<typeof internals>
}
