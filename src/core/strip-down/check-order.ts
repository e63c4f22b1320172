import { densestBlock } from './densest-block.ts'
import { listOrder } from './list-order.ts'
import { outTreeOrder } from './out-tree-order.ts'
import { SUBSET_LIMIT, subsetOrder } from './subset-order.ts'
import { density, type Task } from './task.ts'

/** `is_best`: proven best; otherwise near best, at most twice the least expected time (Chekuri & Motwani 1999). */
export interface CheckOrder {
  order: number[]
  is_best: boolean
}

/** The tasks at the places given, as a problem of their own: what is not among them has been done. */
export function partOf(tasks: readonly Task[], places: readonly number[]): Task[] {
  const at = new Map(places.map((place, index) => [place, index]))
  return places.map(place => ({
    ...tasks[place]!,
    after: tasks[place]!.after.flatMap(before => at.get(before) ?? []),
  }))
}

/** By the chance per minute of a check together with all that must still come before it. */
function greedyOrder(tasks: readonly Task[]): number[] {
  return listOrder(tasks, (check, before) => {
    const block = [...before, check].map(at => tasks[at]!)
    return density({
      chance: block.reduce((sum, task) => sum + task.chance, 0),
      minutes: block.reduce((sum, task) => sum + task.minutes, 0),
    })
  })
}

/**
 * The order of least expected time: exactly on a forest of out-trees, exactly by subsets up to 18 tasks; beyond that block
 * after block of greatest density (Sidney 1975), each exactly while it has at most 18 tasks.
 */
export function checkOrder(tasks: readonly Task[]): CheckOrder {
  const onTree = outTreeOrder(tasks)
  if (onTree !== null) return { order: onTree, is_best: true }
  if (tasks.length <= SUBSET_LIMIT) return { order: subsetOrder(tasks), is_best: true }
  const order: number[] = []
  let left = tasks.map((_, at) => at)
  let isBest = true
  while (left.length > 0) {
    const block = densestBlock(partOf(tasks, left)).map(at => left[at]!)
    const part = partOf(tasks, block)
    const inside = outTreeOrder(part) ?? (part.length <= SUBSET_LIMIT ? subsetOrder(part) : null)
    if (inside === null) isBest = false
    order.push(...(inside ?? greedyOrder(part)).map(at => block[at]!))
    left = left.filter(at => !block.includes(at))
  }
  return { order, is_best: isBest }
}
