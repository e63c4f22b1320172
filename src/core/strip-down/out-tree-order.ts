import { density, isGreater, pending, type Task } from './task.ts'

/** Tasks done one right after the other; `rank` is that of its first check. */
interface Block {
  order: number[]
  chance: number
  minutes: number
  rank: number
}

/** Blocks of several lists in one, the densest first; within a list their order is kept. */
function merge(lists: readonly (readonly Block[])[]): Block[] {
  const rest = lists.map(list => [...list])
  const merged: Block[] = []
  for (;;) {
    let best: Block[] | null = null
    for (const list of rest) {
      const [head] = list
      if (head === undefined) continue
      const [leader] = best ?? []
      const isBetter =
        leader === undefined ||
        isGreater(density(head), density(leader)) ||
        (!isGreater(density(leader), density(head)) && head.rank < leader.rank)
      if (isBetter) best = list
    }
    if (best === null) return merged
    merged.push(best.shift()!)
  }
}

/** The task that each comes right after, -1 for none; or null when some task comes right after two that do not wait for each other. */
function parents(tasks: readonly Task[]): number[] | null {
  const result: number[] = []
  for (const task of tasks) {
    const implied = new Set(task.after.flatMap(before => pending(tasks, before, new Set())))
    const direct = [...new Set(task.after)].filter(before => !implied.has(before))
    if (direct.length > 1) return null
    result.push(direct[0] ?? -1)
  }
  return result
}

/**
 * The order of least Σ chance · end, when what comes before what is a forest of out-trees (each task right after one other
 * at most): from the leaves up, a task is joined with the densest blocks behind it, as long as they are denser than itself.
 * Horn (1972), SIAM J. Appl. Math. 23, 189; Adolphson & Hu (1973), SIAM J. Appl. Math. 25, 403. Without any order to keep
 * this is falling chance per minute, Kadane & Simon (1977), Ann. Stat. 5, 237. Null when it is no such forest.
 */
export function outTreeOrder(tasks: readonly Task[]): number[] | null {
  const parent = parents(tasks)
  if (parent === null) return null
  const behind = (at: number) => tasks.flatMap((_, child) => (parent[child] === at ? [blocksOf(child)] : []))
  const blocksOf = (at: number): Block[] => {
    const { chance, minutes, rank } = tasks[at]!
    const head: Block = { order: [at], chance, minutes, rank }
    const rest = merge(behind(at))
    while (rest[0] !== undefined && isGreater(density(rest[0]), density(head))) {
      const next = rest.shift()!
      head.order.push(...next.order)
      head.chance += next.chance
      head.minutes += next.minutes
      head.rank = Math.min(head.rank, next.rank)
    }
    return [head, ...rest]
  }
  return merge(behind(-1)).flatMap(block => block.order)
}
