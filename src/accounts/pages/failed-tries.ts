import type { Clock } from '../../platform/clock.ts'
import { problem } from '../../platform/problems.ts'

const MOST = 10
const WINDOW_MS = 10 * 60 * 1000

/**
 * Counts failed logins by address, in memory: ten in ten minutes, then it waits. Only failures count, since a whole workshop
 * may come through one address; a right password clears the count.
 */
export class FailedTries {
  readonly #clock: Clock
  readonly #times = new Map<string, number[]>()

  constructor(clock: Clock) {
    this.#clock = clock
  }

  refuseIfTooMany(address: string): void {
    if (this.#recent(address).length < MOST) return
    throw problem('too-many-requests', {
      detail: 'Too many wrong passwords from here. Wait ten minutes, then try again.',
    })
  }

  note(address: string): void {
    this.#times.set(address, [...this.#recent(address), this.#clock.now()])
  }

  forget(address: string): void {
    this.#times.delete(address)
  }

  #recent(address: string): number[] {
    const since = this.#clock.now() - WINDOW_MS
    return (this.#times.get(address) ?? []).filter(time => time > since)
  }
}
