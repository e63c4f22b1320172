import type { Task } from '../../../src/core/strip-down/task.ts'

/** The least Σ chance · end over every order that keeps what comes before what, by trying them; one already dearer is left. */
export function leastByTrying(tasks: readonly Task[], isFirst: (at: number) => boolean = () => false): number {
  const bits = (places: readonly number[]) => places.reduce((mask, at) => mask | (1 << at), 0)
  const all = 2 ** tasks.length - 1
  const first = bits(tasks.flatMap((_, at) => (isFirst(at) ? [at] : [])))
  const before = tasks.map((task, at) => bits(task.after) | (isFirst(at) ? 0 : first))
  let least = Number.POSITIVE_INFINITY
  const go = (done: number, clock: number, sum: number): void => {
    if (sum >= least) return
    if (done === all) least = sum
    for (let at = 0; at < tasks.length; at++) {
      if (done & (1 << at) || (before[at]! & ~done) !== 0) continue
      const end = clock + tasks[at]!.minutes
      go(done | (1 << at), end, sum + tasks[at]!.chance * end)
    }
  }
  go(0, 0, 0)
  return least
}

/** The same for more tasks than can be tried, from the end back over the sets that can have been done. */
export function leastBySets(tasks: readonly Task[]): number {
  const known = new Map<number, number>()
  const go = (done: number, clock: number): number => {
    const before = known.get(done)
    if (before !== undefined) return before
    let least = done === 2 ** tasks.length - 1 ? 0 : Number.POSITIVE_INFINITY
    for (const [at, task] of tasks.entries()) {
      if (done & (1 << at) || !task.after.every(one => done & (1 << one))) continue
      const end = clock + task.minutes
      least = Math.min(least, task.chance * end + go(done | (1 << at), end))
    }
    known.set(done, least)
    return least
  }
  return go(0, 0)
}
