import type Database from 'better-sqlite3'
import type { Context } from '../context.ts'
import { hot } from './hot.ts'
import type { Tx } from './types.ts'

const countOn = hot((raw: Database.Database) =>
  raw
    .prepare(
      'insert into counters (id, last_number) values (?, 1) on conflict (id) do update set last_number = last_number + 1 returning last_number',
    )
    .pluck(),
)

/**
 * The next number of a row of numbers without a gap, from 1: taken inside the transaction that uses it, so that a write
 * which fails gives its number back. The counter's row is covered by the event that the use case records.
 */
export function nextNumber(ctx: Pick<Context, 'store'>, _tx: Tx, counter: string): number {
  return countOn(ctx.store.raw).get(counter) as number
}

/** A number within a year, as people write it: "2031-0042". Each kind of record counts for itself. */
export function yearNumber(ctx: Pick<Context, 'store'>, tx: Tx, kind: string, year: number): string {
  return `${year}-${String(nextNumber(ctx, tx, `${kind}-${year}`)).padStart(4, '0')}`
}
