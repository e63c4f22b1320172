import { nameOfPath, pathOfName, type Typed } from './names.ts'
import type { Shape } from './shape.ts'

/**
 * The form without the rows that were left empty, the others moved up: a list has no gaps, so what is then wrong with a row
 * is said at the row that is shown again.
 */
export function filledRows(typed: Typed, shape: Shape): Typed {
  const filled = new Map<string, Set<number>>()
  for (const [name, value] of Object.entries(typed)) {
    const row = rowOf(name, shape)
    if (row === null || [value].flat().every(text => text.trim() === '')) continue
    filled.set(row.list, (filled.get(row.list) ?? new Set()).add(row.index))
  }
  const places = new Map([...filled].map(([list, rows]) => [list, [...rows].sort((a, b) => a - b)]))
  return Object.fromEntries(
    Object.entries(typed).flatMap(([name, value]): [string, string | string[]][] => {
      const row = rowOf(name, shape)
      if (row === null) return [[name, value]]
      const place = places.get(row.list)?.indexOf(row.index) ?? -1
      return place === -1 ? [] : [[nameOfPath([row.list, place, ...row.rest]), value]]
    }),
  )
}

/** `points[2][at_nm]` is row 2 of points, where the contract has a list of objects there. */
function rowOf(name: string, shape: Shape): { list: string; index: number; rest: string[] } | null {
  const [list = '', index = '', ...rest] = pathOfName(name) ?? []
  const field = shape.fields.get(list)
  if (field?.kind !== 'array' || field.items?.kind !== 'object' || !/^\d{1,4}$/.test(index)) return null
  return { list, index: Number(index), rest }
}
