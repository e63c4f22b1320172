/**
 * A check or strip-down step to be put in order. `after` are the indices of tasks that must come before it; `rank` is its
 * place in the order given, for choices that are equal (of a step: that of the first check behind it).
 */
export interface Task {
  chance: number
  minutes: number
  after: readonly number[]
  rank: number
  is_check: boolean
}

/** Chance found per minute spent. Nothing for nothing counts as nothing. */
export function density({ chance, minutes }: { chance: number; minutes: number }): number {
  return minutes > 0 ? chance / minutes : chance > 0 ? Number.POSITIVE_INFINITY : 0
}

/** Whether one is greater by more than the dust of binary arithmetic, so that equal choices are seen to be equal. */
export function isGreater(one: number, other: number): boolean {
  if (one === Number.POSITIVE_INFINITY) return other !== one
  return one - other > 1e-12 * Math.max(Math.abs(one), Math.abs(other))
}

/** All tasks that must come before one, as they can be done, leaving out those already done and what only they need. */
export function pending(tasks: readonly Task[], task: number, done: ReadonlySet<number>): number[] {
  const found = new Set<number>()
  const visit = (at: number): void => {
    for (const before of tasks[at]!.after)
      if (!found.has(before) && !done.has(before)) {
        visit(before)
        found.add(before)
      }
  }
  visit(task)
  return [...found]
}

/** Σ chance · the minute at which the task ends. */
export function expectedMinutes(tasks: readonly Task[], order: readonly number[]): number {
  let clock = 0
  let sum = 0
  for (const at of order) {
    clock += tasks[at]!.minutes
    sum += tasks[at]!.chance * clock
  }
  return sum
}
