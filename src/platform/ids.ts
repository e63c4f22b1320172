import { v7 } from 'uuid'
import type { Clock } from './clock.ts'

/** Ids are UUID version 7 text (RFC 9562): sorted by creation, so a list by id is a list by time. */
export interface Ids {
  next(): string
}

export const systemIds: Ids = { next: () => v7() }

/** The same ids every time, for a story that must be the same every time: the clock, then a counter in place of chance. */
export function countedIds(clock: Clock): Ids {
  let count = 0
  return {
    next() {
      count += 1
      const random = new Uint8Array(16)
      new DataView(random.buffer).setUint32(12, count)
      return v7({ msecs: clock.now(), seq: count, random })
    },
  }
}
