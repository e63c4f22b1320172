import type { Logger } from 'pino'
import type { Role } from '../core/vocabulary.ts'
import type { Clock } from './clock.ts'
import type { Store } from './database/open.ts'
import type { Read } from './database/types.ts'
import type { Ids } from './ids.ts'
import { problem } from './problems.ts'

/** Who does it: a person at a page, a token of the API, or nobody (the command line of the machine itself). */
export interface Actor {
  id: string
  name: string
  role: Role
}

/** What the program is built from, once. */
export interface Deps {
  store: Store
  clock: Clock
  ids: Ids
  log: Logger
}

/** How far a long computation is: so many of so many `what`. */
export interface Progress {
  done: number
  of: number
  what: string
}

/** What a use case gets: everything from outside that it may touch. `actor` is null at the command line only. */
export interface Context extends Deps {
  read: Read
  actor: Actor | null
  /** Takes how far a long computation is, where somebody waits for it. */
  tell?: (progress: Progress) => void
  /** How long whoever looks at a page waits before it says how far it is; left out: until it is there. */
  patience_ms?: number
}

export function contextFor(deps: Deps, actor: Actor | null): Context {
  return { ...deps, read: deps.store.read, actor }
}

/**
 * The one place where a role is asked for. The owner may do all; the command line of the machine itself may too, since
 * whoever can start it can also open the file. Checked before any look-up, so that a refusal tells nothing.
 */
export function authorise(ctx: Context, ...roles: Role[]): void {
  if (ctx.actor === null || ctx.actor.role === 'owner' || roles.includes(ctx.actor.role)) return
  throw problem('role-not-allowed', {
    detail: `This needs the role ${[...roles, 'owner'].join(' or ')}; ${ctx.actor.name} is signed in as ${ctx.actor.role}.`,
  })
}
