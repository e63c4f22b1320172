import { capital, inText } from '../../core/words.ts'
/** A step of an order, shared by its jobs; `needs` are access steps that are opened before it and closed after it. */
export interface StepFact {
  access_step_id: string
  name: string
  needs: readonly string[]
  is_open: boolean
  job_id: string
}

/** What can be behind a step. Only tools that are still in; joints and looks of jobs that stand. */
export interface PointFacts {
  steps: readonly StepFact[]
  tools: readonly { id: string; job_id: string; tool: string; before_step_id: string | null }[]
  looks: readonly { id: string; job_id: string; component: string; behind_step_id: string | null; done: boolean }[]
  joints: readonly {
    id: string
    name: string
    behind_step_id: string | null
    signed: boolean
    /** Where it stands, in words. */
    sentence: string
  }[]
}

export interface OrderFacts extends PointFacts {
  order_id: string
  /** Null: nobody has done the check yet. */
  final_checks: readonly { id: string; job_id: string; text: string; fine: boolean | null }[]
}

export interface Blocker {
  reason:
    | 'tool_in'
    | 'step_open'
    | 'look_missing'
    | 'joint_unsigned'
    | 'check_missing'
    | 'check_failed'
    | 'no_yes'
    | 'above_agreed'
  /** A whole sentence: "Holding plate no. 3 is still in." */
  sentence: string
  href: string
}

/**
 * What keeps a step from being closed: everything that lies behind it, or behind a step that needs it, directly or not, and
 * is not done; and those inner steps that are still open. Tools of voided jobs are among `tools`: voiding takes none out.
 */
export function stepBlockers(facts: PointFacts, accessStepId: string): Blocker[] {
  const behind = stepsBehind(facts.steps, accessStepId)
  const isBehind = (stepId: string | null) => stepId !== null && behind.has(stepId)
  return pointBlockers({
    steps: facts.steps.filter(step => step.access_step_id !== accessStepId && behind.has(step.access_step_id)),
    tools: facts.tools.filter(tool => isBehind(tool.before_step_id)),
    looks: facts.looks.filter(look => isBehind(look.behind_step_id)),
    joints: facts.joints.filter(joint => isBehind(joint.behind_step_id)),
  })
}

/** What of the work keeps a vehicle from being handed back; `moneyBlockers` says what of the money does. */
export function workBlockers(facts: OrderFacts): Blocker[] {
  const checks = facts.final_checks
    .filter(check => check.fine !== true)
    .map(
      (check): Blocker => ({
        reason: check.fine === null ? 'check_missing' : 'check_failed',
        sentence: `The final check "${check.text}" ${check.fine === null ? 'is not done' : 'was not fine'}.`,
        href: `/bench/jobs/${check.job_id}`,
      }),
    )
  return [...pointBlockers(facts), ...checks]
}

/** The step itself and every step that needs it, directly or through others. */
function stepsBehind(steps: readonly StepFact[], accessStepId: string): Set<string> {
  const behind = new Set([accessStepId])
  // a Set hands out what is added while it is walked
  for (const id of behind) {
    for (const step of steps) if (step.needs.includes(id)) behind.add(step.access_step_id)
  }
  return behind
}

function pointBlockers({ steps, tools, looks, joints }: PointFacts): Blocker[] {
  return [
    ...tools.map(
      (tool): Blocker => ({
        reason: 'tool_in',
        sentence: `${capital(tool.tool)} is still in.`,
        href: `/bench/jobs/${tool.job_id}`,
      }),
    ),
    ...steps
      .filter(step => step.is_open)
      .map(
        (step): Blocker => ({
          reason: 'step_open',
          sentence: `"${step.name}" is still open.`,
          href: `/bench/jobs/${step.job_id}`,
        }),
      ),
    ...looks
      .filter(look => !look.done)
      .map(
        (look): Blocker => ({
          reason: 'look_missing',
          sentence: `The look at the ${inText(look.component)} is not done.`,
          href: `/bench/jobs/${look.job_id}`,
        }),
      ),
    ...joints
      .filter(joint => !joint.signed)
      .map(
        (joint): Blocker => ({
          reason: 'joint_unsigned',
          sentence: `${capital(joint.name)} is not signed: ${joint.sentence}.`,
          href: `/bench/joints/${joint.id}`,
        }),
      ),
  ]
}

/** "holding plate no. 3 is still in; the look at the brake hose is not done": blockers as one clause. */
export function inOneClause(blockers: readonly Blocker[]): string {
  return blockers.map(blocker => inText(blocker.sentence.replace(/\.$/, ''))).join('; ')
}
