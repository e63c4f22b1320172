import type Database from 'better-sqlite3'

/** Left out of the record chain and of the export: they hold secrets or answers of the moment, not history. */
export const UNAUDITED_TABLES = ['sessions', 'api_tokens', 'setup_links', 'stored_answers']

/** The chain itself: it cannot record itself, but it is exported. */
export const CHAIN_TABLES = ['events', 'event_rows']

/**
 * Tables whose rows come by the hundred thousand in one write. They are recorded as one set: the hash of the set stands
 * in the event under the id of the record that the named column points to.
 */
export const SET_TABLES: Record<string, string> = { history_events: 'import_id' }

export function allTables(raw: Database.Database): string[] {
  return raw
    .prepare(
      "select name from pragma_table_list where schema = 'main' and type = 'table' and name not like 'sqlite_%' and name not like '\\_\\_%' escape '\\' order by name",
    )
    .pluck()
    .all() as string[]
}

/** Tables each of whose rows must have an audit event. */
export function auditedTables(raw: Database.Database): string[] {
  const others = new Set([...UNAUDITED_TABLES, ...CHAIN_TABLES, ...Object.keys(SET_TABLES)])
  return allTables(raw).filter(table => !others.has(table))
}
