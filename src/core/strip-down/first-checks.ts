import { type AccessStep, accessClosure } from './access-closure.ts'
import { checkOrder, partOf } from './check-order.ts'
import { listOrder } from './list-order.ts'
import { expectedMinutes, pending, type Task } from './task.ts'

/** A cause to check: the chance that it is the one, and the minutes that the check takes once the steps it is behind are open. */
export interface Check {
  id: string
  chance: number
  minutes: number
  behind?: string | readonly string[] | undefined
  makes_safe?: boolean | undefined
  not_before?: readonly string[] | undefined
}

export interface CheckStep extends AccessStep {
  minutes: number
}

/** `sequence` shows the strip-down steps between the checks; `ends_at` is in minutes. `is_best` false: near best. */
export interface FirstChecks {
  order: string[]
  expected_minutes: number
  expected_minutes_most_likely_first: number
  is_best: boolean
  sequence: { kind: 'check' | 'step'; id: string; ends_at: number }[]
}

function refuse(checks: readonly Check[], steps: readonly CheckStep[]): void {
  if (checks.some(({ chance }) => !(chance >= 0 && chance <= 1)))
    throw new RangeError('firstChecks requires chances from zero to one')
  if (checks.reduce((sum, { chance }) => sum + chance, 0) > 1 + 1e-9)
    throw new RangeError('firstChecks requires chances that add up to at most one')
  if ([...checks, ...steps].some(({ minutes }) => !(minutes >= 0 && Number.isFinite(minutes))))
    throw new RangeError('firstChecks requires minutes of zero or more')
  for (const list of [checks, steps])
    if (new Set(list.map(({ id }) => id)).size !== list.length)
      throw new RangeError('firstChecks requires each id once')
}

/** The checks in the order given, then the steps that any of them is behind; `needed` names those. */
function tasksOf(checks: readonly Check[], steps: readonly CheckStep[]): { tasks: Task[]; needed: CheckStep[] } {
  const stepsOf = checks.map(({ behind }) => accessClosure(steps, [behind ?? []].flat()))
  const needed = [...new Set(stepsOf.flat())]
  const placeOf = (step: string) => checks.length + needed.findIndex(({ id }) => id === step)
  const tasks = [
    ...checks.map(({ id, chance, minutes, behind, not_before }, rank) => {
      const earlier = (not_before ?? []).map(other => checks.findIndex(check => check.id === other))
      if (earlier.includes(-1)) throw new RangeError(`firstChecks requires known checks, got another before ${id}`)
      return { chance, minutes, rank, is_check: true, after: [...earlier, ...[behind ?? []].flat().map(placeOf)] }
    }),
    ...needed.map(step => ({
      chance: 0,
      minutes: step.minutes,
      rank: stepsOf.findIndex(list => list.includes(step)),
      is_check: false,
      after: step.needs.map(placeOf),
    })),
  ]
  return { tasks, needed }
}

function refuseCircles(tasks: readonly Task[], checks: readonly Check[]): void {
  const done = new Set<number>()
  const isFree = (task: Task, at: number) => !done.has(at) && task.after.every(before => done.has(before))
  for (let at = tasks.findIndex(isFree); at >= 0; at = tasks.findIndex(isFree)) done.add(at)
  if (done.size === tasks.length) return
  const circle = checks.filter((_, at) => !done.has(at)).map(({ id }) => id)
  throw new RangeError(`firstChecks requires checks that do not wait for each other in a circle: ${circle.join(', ')}`)
}

/** Falling chance among the checks that may be made, each after the steps it still needs. */
function mostLikelyFirst(tasks: readonly Task[]): number[] {
  return listOrder(tasks, (check, before) => (before.some(at => tasks[at]!.is_check) ? null : tasks[check]!.chance))
}

/**
 * Which check first, when some are behind strip-down: the order of least Σ p_i·C_i, C_i the minute at which check i ends.
 * Steps have no chance of their own and come after the steps they need; a check comes after the step it is behind and
 * after every check that it is `not_before`. What makes safe, with all it needs, comes before all else; the most likely
 * first, given for comparison, keeps these rules too. See `checkOrder` for the methods and their sources; the same as
 * troubleshooting with cost clusters (Ottosen & Jensen 2010). Equal choices keep the order given.
 *
 * @throws RangeError for chances not from zero to one or above one in sum, minutes below zero, unknown or double ids, or
 * checks or steps that wait for each other in a circle.
 */
export function firstChecks(checks: readonly Check[], steps: readonly CheckStep[]): FirstChecks {
  refuse(checks, steps)
  const { tasks, needed } = tasksOf(checks, steps)
  refuseCircles(tasks, checks)
  const safe = new Set<number>()
  for (const [at, check] of checks.entries())
    if (check.makes_safe) for (const place of [...pending(tasks, at, new Set()), at]) safe.add(place)
  const places = tasks.map((_, at) => at)
  const phases = [places.filter(at => safe.has(at)), places.filter(at => !safe.has(at))].map(phase => {
    const part = partOf(tasks, phase)
    const best = checkOrder(part)
    const back = (order: readonly number[]) => order.map(at => phase[at]!)
    return { best: back(best.order), isBest: best.is_best, likely: back(mostLikelyFirst(part)) }
  })
  const best = phases.flatMap(phase => phase.best)
  let clock = 0
  const sequence = best.map(at => {
    clock += tasks[at]!.minutes
    const check = checks[at]
    if (check !== undefined) return { kind: 'check' as const, id: check.id, ends_at: clock }
    return { kind: 'step' as const, id: needed[at - checks.length]!.id, ends_at: clock }
  })
  return {
    order: sequence.flatMap(item => (item.kind === 'check' ? [item.id] : [])),
    expected_minutes: expectedMinutes(tasks, best),
    expected_minutes_most_likely_first: expectedMinutes(
      tasks,
      phases.flatMap(phase => phase.likely),
    ),
    is_best: phases.every(phase => phase.isBest),
    sequence,
  }
}
