import { density, isGreater, type Task } from './task.ts'

/** Below this a residual capacity is dust. */
const DUST = 1e-13

/**
 * The set of greatest total worth among those that contain, with a task, all that must come before it: the tasks of worth
 * on the source's side of a least cut (Picard 1976, Manage. Sci. 22, 1268), by shortest augmenting paths.
 */
function worthiestClosure(tasks: readonly Task[], worth: readonly number[]): number[] {
  const n = tasks.length
  const [source, sink] = [n, n + 1]
  const capacity = Array.from({ length: n + 2 }, () => new Float64Array(n + 2))
  for (const [at, task] of tasks.entries()) {
    if (worth[at]! > 0) capacity[source]![at] = worth[at]!
    else capacity[at]![sink] = -worth[at]!
    for (const before of task.after) capacity[at]![before] = Number.POSITIVE_INFINITY
  }
  for (;;) {
    const from = new Int32Array(n + 2).fill(-1)
    from[source] = source
    const queue = [source]
    for (const at of queue)
      for (let to = 0; to < n + 2; to++)
        if (from[to] === -1 && capacity[at]![to]! > DUST) {
          from[to] = at
          queue.push(to)
        }
    if (from[sink] === -1) return tasks.flatMap((_, at) => (from[at] === -1 ? [] : [at]))
    let flow = Number.POSITIVE_INFINITY
    for (let to = sink; to !== source; to = from[to]!) flow = Math.min(flow, capacity[from[to]!]![to]!)
    for (let to = sink; to !== source; to = from[to]!) {
      capacity[from[to]!]![to]! -= flow
      capacity[to]![from[to]!]! += flow
    }
  }
}

/**
 * The tasks that can be done first and have the greatest Σ chance / Σ minutes of all such sets (Sidney 1975, Oper. Res. 23,
 * 283), found by raising the density until no set has more (Dinkelbach 1967, Manage. Sci. 13, 492). Some best order does
 * them before all others. Indices in rising order.
 */
export function densestBlock(tasks: readonly Task[]): number[] {
  const timed = tasks.map(task => ({ ...task, minutes: Math.max(task.minutes, 1e-9) }))
  const densityOf = (block: readonly number[]) =>
    density({
      chance: block.reduce((sum, at) => sum + timed[at]!.chance, 0),
      minutes: block.reduce((sum, at) => sum + timed[at]!.minutes, 0),
    })
  let block = tasks.map((_, at) => at)
  for (;;) {
    const reached = densityOf(block)
    const next = worthiestClosure(
      timed,
      timed.map(task => task.chance - reached * task.minutes),
    )
    if (next.length === 0 || !isGreater(densityOf(next), reached)) return block
    block = next
  }
}
