import { isGreater, type Task } from './task.ts'

/** As many tasks as are ordered exactly: 2^18 subsets take a few hundredths of a second. */
export const SUBSET_LIMIT = 18

/**
 * The order of least Σ chance · end under any order to keep, by the best way to go on from every subset of tasks done
 * (Held & Karp 1962, J. SIAM 10, 196). Where two ways are equal the task that was given first is done first.
 *
 * @throws RangeError above `SUBSET_LIMIT` tasks.
 */
export function subsetOrder(tasks: readonly Task[]): number[] {
  if (tasks.length > SUBSET_LIMIT) throw new RangeError(`subsetOrder requires at most ${SUBSET_LIMIT} tasks`)
  const all = 2 ** tasks.length - 1
  const before = tasks.map(task => task.after.reduce((mask, at) => mask | (1 << at), 0))
  const byRank = tasks.map((_, at) => at).sort((a, b) => tasks[a]!.rank - tasks[b]!.rank)
  const clock = new Float64Array(all + 1)
  for (let mask = 1; mask <= all; mask++) {
    const lowest = 31 - Math.clz32(mask & -mask)
    clock[mask] = clock[mask & (mask - 1)]! + tasks[lowest]!.minutes
  }
  const left = new Float64Array(all + 1)
  const choice = new Int8Array(all + 1).fill(-1)
  for (let mask = all - 1; mask >= 0; mask--) {
    let least = Number.POSITIVE_INFINITY
    for (const at of byRank) {
      const bit = 1 << at
      if ((mask & bit) !== 0 || (before[at]! & ~mask) !== 0) continue
      const cost = tasks[at]!.chance * clock[mask | bit]! + left[mask | bit]!
      if (choice[mask] !== -1 && !isGreater(least, cost)) continue
      least = cost
      choice[mask] = at
    }
    left[mask] = least
  }
  const order: number[] = []
  for (let mask = 0; mask !== all; mask |= 1 << order.at(-1)!) order.push(choice[mask]!)
  return order
}
