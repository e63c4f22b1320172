import { isGreater, pending, type Task } from './task.ts'

/**
 * Takes one check after the other, always the one of greatest score, each with what must still come before it. `score`
 * gets the check and what is pending before it, and answers null where the check may not be taken yet.
 */
export function listOrder(
  tasks: readonly Task[],
  score: (check: number, before: readonly number[]) => number | null,
): number[] {
  const done = new Set<number>()
  const checks = tasks
    .flatMap((task, at) => (task.is_check ? [at] : []))
    .sort((a, b) => tasks[a]!.rank - tasks[b]!.rank)
  for (;;) {
    let best: { check: number; before: number[]; score: number } | null = null
    for (const check of checks) {
      if (done.has(check)) continue
      const before = pending(tasks, check, done)
      const its = score(check, before)
      if (its !== null && (best === null || isGreater(its, best.score))) best = { check, before, score: its }
    }
    if (best === null) return [...done]
    for (const at of [...best.before, best.check]) done.add(at)
  }
}
