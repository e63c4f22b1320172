import type { Context } from './context.ts'

/** The columns that every record has, filled in for one that is written now. */
export function newRecord(ctx: Pick<Context, 'ids' | 'clock' | 'actor'>) {
  return { id: ctx.ids.next(), created_at: ctx.clock.now(), created_by: ctx.actor?.id ?? null }
}

/** Those of a record that people edit. */
export function newEditable(ctx: Pick<Context, 'ids' | 'clock' | 'actor'>) {
  const record = newRecord(ctx)
  return { ...record, updated_at: record.created_at, version: 1 }
}

/** The same record after an edit: the next version, changed now. */
export function edited(ctx: Pick<Context, 'clock'>, row: { version: number }) {
  return { updated_at: ctx.clock.now(), version: row.version + 1 }
}
