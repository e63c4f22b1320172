import { type SQL, type SQLWrapper, sql } from 'drizzle-orm'

/** Whether two texts are the same, in small letters or large: people write a batch either way. */
export function sameText(one: SQLWrapper, other: SQLWrapper): SQL {
  return sql`${one} = ${other} collate nocase`
}
