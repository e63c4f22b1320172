import type { BetterSQLite3Database } from 'drizzle-orm/better-sqlite3'

/** A connection to read through; also what a transaction reads through. */
export type Read = BetterSQLite3Database

declare const insideTransaction: unique symbol

/** A connection inside `write`: only `write` makes one, so a query that takes a Tx cannot run outside a transaction. */
export type Tx = Read & { readonly [insideTransaction]: true }
