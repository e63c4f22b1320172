import { Column, getTableName, is, noopDecoder, Param, Placeholder, SQL, Subquery } from 'drizzle-orm'

/** What drizzle keeps in a prepared select: how each column of a row becomes a field. */
interface PreparedSelect {
  fields: { path: string[]; field: Column | SQL | SQL.Aliased | Subquery }[]
  joinsNotNullableMap?: Record<string, boolean>
  customResultMapper?: unknown
  query: { params: unknown[] }
  stmt: { raw(): { all(...bound: unknown[]): unknown[][]; get(...bound: unknown[]): unknown[] | undefined } }
  all(values?: Values): unknown[]
  get(values?: Values): unknown
}
type Values = Record<string, unknown>
type Decode = (value: unknown) => unknown

/**
 * The same prepared select, with what drizzle works out anew for each cell of each row (which kind of column it is, how its
 * value is read, which joined table was absent) worked out once. That is most of the time of a short query. Anything that is
 * not a plain prepared select is handed back as it came.
 */
export function quickened<Prepared>(prepared: Prepared): Prepared {
  const select = prepared as PreparedSelect
  if (!Array.isArray(select?.fields) || select.customResultMapper !== undefined) return prepared
  const toRow = rowReader(select)
  const bind = binder(select.query.params)
  const { stmt } = select
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

function rowReader({ fields, joinsNotNullableMap }: PreparedSelect): (cells: unknown[]) => Values {
  const flat: { name: string; decode: Decode | null; at: number }[] = []
  const joined = new Map<string, { name: string; decode: Decode | null; at: number }[]>()
  const deeper = fields.some(({ path }) => path.length > 2)
  if (deeper) throw new RangeError('A hot query selects columns, or tables of columns')
  for (const [at, { path, field }] of fields.entries()) {
    const [first = '', second] = path
    const decode = decoderOf(field)
    if (second === undefined) flat.push({ name: first, decode, at })
    else joined.set(first, [...(joined.get(first) ?? []), { name: second, decode, at }])
  }
  const tables = [...joined].map(([name, columns]) => ({ name, columns, absentAt: absentAt(columns) }))

  /** The cell by which it is seen that an outer join found nothing: the first of its table's; -1 when it cannot be absent. */
  function absentAt(columns: readonly { at: number }[]): number {
    const own = columns.flatMap(({ at }) => {
      const { field } = fields[at]!
      return is(field, Column) ? [{ at, table: getTableName(field.table) }] : []
    })
    const [first] = own
    if (joinsNotNullableMap === undefined || first === undefined) return -1
    const isOneTable = own.every(({ table }) => table === first.table)
    return isOneTable && !joinsNotNullableMap[first.table] ? first.at : -1
  }

  return cells => {
    const row: Values = {}
    for (const { name, decode, at } of flat) row[name] = valueIn(cells[at], decode)
    for (const { name, columns, absentAt: seen } of tables) {
      if (seen >= 0 && cells[seen] === null) {
        row[name] = null
        continue
      }
      const inner: Values = {}
      for (const column of columns) inner[column.name] = valueIn(cells[column.at], column.decode)
      row[name] = inner
    }
    return row
  }
}

function valueIn(cell: unknown, decode: Decode | null): unknown {
  return cell === null || decode === null ? cell : decode(cell)
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
