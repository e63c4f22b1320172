/** Time comes in from outside: services ask the clock of their context once, so that every result can be reproduced. */
export interface Clock {
  /** Milliseconds since 1970-01-01 UTC. */
  now(): number
}

export const systemClock: Clock = { now: () => Date.now() }

/** A clock that started at another time and goes on at the real pace: the demo workshop lives in its own year. */
export function clockFrom(startMs: number, realClock: Clock = systemClock): Clock {
  const startedAt = realClock.now()
  return { now: () => startMs + (realClock.now() - startedAt) }
}

/** A clock that a story or a test moves by hand. */
export interface HandClock extends Clock {
  set(ms: number): void
}

export function handClock(startMs: number): HandClock {
  let now = startMs
  return {
    now: () => now,
    set(ms) {
      now = ms
    },
  }
}
