import { type SQL, sql } from 'drizzle-orm'
import { type AnySQLiteColumn, check } from 'drizzle-orm/sqlite-core'

/** CHECKs that every table shares. They are written into the DDL, so values are inlined, never bound. */

/**
 * The column holds one of the listed words (or NULL, when it may be absent). Written as comparisons, because SQLite makes a
 * temporary table for every row that it holds against an IN list of three or more.
 */
export function oneOf(column: AnySQLiteColumn, words: readonly string[]) {
  const each = words.map(word => sql`${column} = ${sql.raw(`'${word}'`)}`)
  return check(`${column.name}_word`, sql.join(each, sql` or `))
}

/** Empty text is never stored, so an empty CSV field can only mean NULL. */
export function notEmpty(...columns: AnySQLiteColumn[]) {
  return columns.map(column => check(`${column.name}_not_empty`, sql`${column} <> ''`))
}

/** A calendar day, YYYY-MM-DD, one that exists. */
export function isDay(column: AnySQLiteColumn) {
  return check(`${column.name}_day`, sql`${column} is null or date(${column}) = ${column}`)
}

/** A yes or no. */
export function isBoolean(column: AnySQLiteColumn) {
  return check(`${column.name}_boolean`, sql`${column} in (0, 1)`)
}

/** A list or object kept as JSON text: an ordered value of its record, never shared. */
export function isJson(...columns: AnySQLiteColumn[]) {
  return columns.map(column => check(`${column.name}_json`, sql`${column} is null or json_valid(${column})`))
}

/** Money and counts stay inside what JavaScript holds exactly. */
export function isSafe(...columns: AnySQLiteColumn[]) {
  return columns.map(column =>
    check(`${column.name}_safe`, sql`abs(${column}) <= ${sql.raw(String(Number.MAX_SAFE_INTEGER))}`),
  )
}

export function must(name: string, condition: SQL) {
  return check(name, condition)
}
