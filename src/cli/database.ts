import type { Command } from 'commander'
import pino from 'pino'
import { systemClock } from '../platform/clock.ts'
import { type Context, contextFor, type Deps } from '../platform/context.ts'
import { openMigrated } from '../platform/database/migrate.ts'
import type { Store } from '../platform/database/open.ts'
import { systemIds } from '../platform/ids.ts'

/** The file that --db names, before or after the command. */
export function databaseOf(command: Command): string {
  return command.optsWithGlobals<{ db: string }>().db
}

/** The program's log goes to standard error, at once: standard output is for what a command was asked to print. */
export function depsFor(store: Store): Deps {
  return {
    store,
    clock: systemClock,
    ids: systemIds,
    log: pino({ level: 'warn' }, pino.destination({ dest: 2, sync: true })),
  }
}

/** Does one thing as the command line of the machine itself, with the database made and migrated, and closes it. */
export async function withDatabase<T>(command: Command, work: (ctx: Context) => T | Promise<T>): Promise<T> {
  const store = await openMigrated(databaseOf(command))
  try {
    return await work(contextFor(depsFor(store), null))
  } finally {
    store.close()
  }
}
