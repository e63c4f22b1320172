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
  tools: readonly {
    id: string
    job_id: string
    tool: string
    count: number
    before_step_id: string | null
    /** What of it is lost, and where it may be, as a clause; null while nothing is. */
    missing: string | null
  }[]
  looks: readonly { id: string; job_id: string; component: string; behind_step_id: string | null; done: boolean }[]
  joints: readonly {
    id: string
    name: string
    behind_step_id: string | null
    signed: boolean
    /** Old single-use fasteners are in it, to move the vehicle in the house. */
    temporary: boolean
    /** Where it stands, in words. */
    sentence: string
  }[]
}

export interface OrderFacts extends PointFacts {
  order_id: string
  /** Null: nobody has done the check yet. */
  final_checks: readonly { id: string; job_id: string; text: string; fine: boolean | null }[]
  /** Jobs after which the engine must be turned by hand, and whether it was, since anything was opened last. */
  engine: readonly { job_id: string; letter: string; task: string; turned_by_hand: boolean }[]
  /** Findings on which safety hangs, of which nobody has told the customer: each in words. */
  untold: readonly { what: string }[]
}

export interface Blocker {
  reason:
    | 'tool_in'
    | 'step_open'
    | 'look_missing'
    | 'joint_unsigned'
    | 'temporary_fasteners'
    | 'engine_not_turned'
    | 'check_missing'
    | 'check_failed'
    | 'safety_not_told'
    | 'no_yes'
    | 'above_agreed'
  /** A whole sentence: "Holding plate no. 3 is still in." */
  sentence: string
  href: string
}

/**
 * What keeps a step from being closed: everything that lies behind it, or behind a step that needs it, directly or not, and
 * is not done; those inner steps that are still open; and every tool of which nobody said before which step it must be out. Tools
 * of voided jobs are among `tools`: voiding takes none out.
 */
export function stepBlockers(facts: PointFacts, accessStepId: string): Blocker[] {
  const behind = stepsBehind(facts.steps, accessStepId)
  const isBehind = (stepId: string | null) => stepId !== null && behind.has(stepId)
  return pointBlockers({
    steps: facts.steps.filter(step => step.access_step_id !== accessStepId && behind.has(step.access_step_id)),
    tools: facts.tools.filter(tool => tool.before_step_id === null || isBehind(tool.before_step_id)),
    looks: facts.looks.filter(look => isBehind(look.behind_step_id)),
    joints: facts.joints.filter(joint => isBehind(joint.behind_step_id)),
  })
}

/**
 * The same without what keeps a step behind it open already, for a list in which both stand: the outer step waits for the inner
 * one, and that says the rest.
 */
export function stepBlockersBesideInner(facts: PointFacts, accessStepId: string): Blocker[] {
  const behind = stepsBehind(facts.steps, accessStepId)
  const inner = facts.steps.filter(
    step => step.is_open && step.access_step_id !== accessStepId && behind.has(step.access_step_id),
  )
  const said = inner.flatMap(step => stepBlockers(facts, step.access_step_id)).map(blocker => blocker.sentence)
  return stepBlockers(facts, accessStepId).filter(blocker => !said.includes(blocker.sentence))
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
  const engine = facts.engine
    .filter(job => !job.turned_by_hand)
    .map(
      (job): Blocker => ({
        reason: 'engine_not_turned',
        sentence: `The engine was not turned by hand after job ${job.letter}, ${inText(job.task)}.`,
        href: `/bench/jobs/${job.job_id}`,
      }),
    )
  const untold = facts.untold.map(
    ({ what }): Blocker => ({
      reason: 'safety_not_told',
      sentence: `Safety hangs on a finding, and nobody has told the customer: ${what}.`,
      href: `/work-orders/${facts.order_id}/told`,
    }),
  )
  return [...pointBlockers(facts), ...engine, ...checks, ...untold]
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
    ...tools.map(toolBlocker),
    ...steps.filter(step => step.is_open).map(stepBlocker),
    ...looks
      .filter(look => !look.done)
      .map(
        (look): Blocker => ({
          reason: 'look_missing',
          sentence: `The look at the ${inText(look.component)} is not done.`,
          href: `/bench/jobs/${look.job_id}`,
        }),
      ),
    ...joints.filter(joint => !joint.signed || joint.temporary).map(jointBlocker),
  ]
}

export function stepBlocker({ name, job_id }: Pick<StepFact, 'name' | 'job_id'>): Blocker {
  return { reason: 'step_open', sentence: `"${name}" is still open.`, href: `/bench/jobs/${job_id}` }
}

export function toolBlocker({ tool, count, missing, job_id }: PointFacts['tools'][number]): Blocker {
  const stillIn = count === 1 ? `${capital(tool)} is still in.` : `${capital(tool)}: ${count} are still in.`
  const sentence = missing === null ? stillIn : `${capital(tool)}: ${missing}.`
  return { reason: 'tool_in', sentence, href: `/bench/jobs/${job_id}` }
}

/** Of a joint that is not signed, or stands on temporary fasteners. */
export function jointBlocker({ id, name, temporary, sentence }: PointFacts['joints'][number]): Blocker {
  const href = `/bench/joints/${id}`
  return temporary
    ? { reason: 'temporary_fasteners', sentence: `Temporary fasteners, not for the road: ${inText(name)}.`, href }
    : { reason: 'joint_unsigned', sentence: `${capital(name)} is not signed: ${sentence}.`, href }
}

/** "holding plate no. 3 is still in; the look at the brake hose is not done": blockers as one clause. */
export function inOneClause(blockers: readonly Pick<Blocker, 'sentence'>[]): string {
  return blockers.map(blocker => inText(blocker.sentence.replace(/\.$/, ''))).join('; ')
}
