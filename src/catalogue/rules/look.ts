import type { Severity } from '../../core/vocabulary.ts'

/** A look of which nobody has said how long it takes. */
const MINUTES_UNSAID = 10

interface ToLookAt {
  id: string
  severity?: Severity | undefined
  check_minutes?: number | undefined
}

interface Step {
  id: string
  exposes: readonly string[]
}

/** How a component is looked at: what it puts at risk, the minutes it takes, and the step behind which it lies. */
export interface LookAtComponent {
  severity: Severity
  minutes: number
  behind_step_id?: string
}

/**
 * A look at a component while some steps are open: as the catalogue says, else a breakdown and ten minutes; behind the first
 * of the steps that lays it bare.
 *
 * @param steps those needed before those that need them.
 */
export function lookAtComponent(component: ToLookAt, steps: readonly Step[]): LookAtComponent {
  const behind = steps.find(step => step.exposes.includes(component.id))
  return {
    severity: component.severity ?? 'breakdown',
    minutes: component.check_minutes ?? MINUTES_UNSAID,
    ...(behind !== undefined && { behind_step_id: behind.id }),
  }
}
