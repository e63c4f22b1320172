import { circleOf } from '../../core/strip-down/circle.ts'

/** A check or a step as it was sent: where it names another that is not there, its pointer says so. */
interface Sent {
  id: string
}

interface SentCheck extends Sent {
  chance: number
  behind?: string | undefined
  not_before?: readonly string[] | undefined
}

interface SentStep extends Sent {
  needs: readonly string[]
}

/** One thing that is wrong with what was sent. */
export interface BadCheck {
  pointer: string
  detail: string
  code: string
}

/** Chances may pass one by what rounding leaves. */
const ROUNDING = 1e-9

/** Everything that keeps these checks from being put in order; of several circles the first. */
export function badChecks(checks: readonly SentCheck[], steps: readonly SentStep[]): BadCheck[] {
  const unknown = (pointer: string, what: string, id: string) => ({
    pointer,
    detail: `There is no ${what} “${id}” here.`,
    code: 'unknown',
  })
  const hasCheck = new Set(checks.map(check => check.id))
  const hasStep = new Set(steps.map(step => step.id))
  const sum = checks.reduce((total, check) => total + check.chance, 0)
  return [
    ...twice(checks, '/checks'),
    ...twice(steps, '/steps'),
    ...checks.flatMap(({ behind, not_before = [] }, place) => [
      ...(behind === undefined || hasStep.has(behind) ? [] : [unknown(`/checks/${place}/behind`, 'step', behind)]),
      ...not_before.flatMap((other, at) =>
        hasCheck.has(other) ? [] : [unknown(`/checks/${place}/not_before/${at}`, 'check', other)],
      ),
    ]),
    ...steps.flatMap(({ needs }, place) =>
      needs.flatMap((other, at) => (hasStep.has(other) ? [] : [unknown(`/steps/${place}/needs/${at}`, 'step', other)])),
    ),
    ...circleFaults(steps, '/steps', 'needs', 'needs'),
    ...circleFaults(
      checks.map(({ id, not_before = [] }) => ({ id, needs: not_before })),
      '/checks',
      'not_before',
      'waits for',
    ),
    ...(sum > 1 + ROUNDING
      ? [
          {
            pointer: '/checks',
            detail: `The chances add up to ${sum.toFixed(4)}; they may come to 1 at most.`,
            code: 'too_big',
          },
        ]
      : []),
  ]
}

/** Whatever needs itself in the end can never be reached, whether a check is behind it or not. */
function circleFaults(list: readonly SentStep[], pointer: string, field: string, verb: string): BadCheck[] {
  const circle = circleOf(list)
  if (circle === null) return []
  const way = [...circle, circle[0]].map(id => `“${id}”`)
  const detail = `${way
    .slice(0, -1)
    .map((id, at) => `${id} ${verb} ${way[at + 1]}`)
    .join(', ')}: so it comes after itself. Take one of these out.`
  const first = list.findIndex(each => each.id === circle[0])
  return [{ pointer: `${pointer}/${first}/${field}`, detail, code: 'circle' }]
}

function twice(list: readonly Sent[], pointer: string): BadCheck[] {
  return list.flatMap(({ id }, place) =>
    list.findIndex(other => other.id === id) === place
      ? []
      : [{ pointer: `${pointer}/${place}/id`, detail: `“${id}” stands here twice.`, code: 'twice' }],
  )
}
