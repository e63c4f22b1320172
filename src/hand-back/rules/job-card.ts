import { type Blocker, inOneClause } from './blockers.ts'

/** One thing to do on a job, in the order of the job: open, look, tighten, take out, close, check. */
export interface CardItem {
  kind: 'open' | 'look' | 'joint' | 'second_person' | 'tool' | 'close' | 'final_check'
  /** The job step, look, joint, tool or final check. */
  id: string
  title: string
  /** What was done, or why it cannot be done yet. */
  note: string
  done: boolean
  /** Why it must wait; empty when it can be done now. */
  waits_for: string
}

export interface CardStep {
  id: string
  access_step_id: string
  name: string
  needs: readonly string[]
  is_open: boolean
  times_opened: number
  opened_note: string
  closed_note: string
  closing_blockers: readonly Blocker[]
}

export interface CardFacts {
  /** After those they need. */
  steps: readonly CardStep[]
  looks: readonly { id: string; component: string; behind_step_id: string | null; result: string | null }[]
  joints: readonly {
    id: string
    name: string
    complete: boolean
    signed: boolean
    needs_second_person: boolean
    sentence: string
  }[]
  tools: readonly { id: string; tool: string; removed: boolean; note: string }[]
  final_checks: readonly { id: string; text: string; result: string | null; fine: boolean }[]
}

/**
 * The walk of a job: steps opened from the outside in, looks while it is open, joints, tools out, steps closed from the
 * inside out, final checks. What blocks what is said with each thing that must wait.
 */
export function jobCard(facts: CardFacts): CardItem[] {
  const stepName = new Map(facts.steps.map(step => [step.access_step_id, step]))
  const closedNeeds = (step: CardStep) =>
    step.needs.map(id => stepName.get(id)).filter(need => need !== undefined && !need.is_open)
  const isClosed = facts.steps.every(step => !step.is_open && step.times_opened > 0)
  const waitsForCheck = isClosed
    ? facts.joints.every(joint => joint.signed)
      ? ''
      : 'every joint must be signed first'
    : 'the strip-down must be done and closed again'
  return [
    ...facts.steps.map((step): CardItem => {
      const done = step.times_opened > 0
      const first = done ? [] : closedNeeds(step).map(need => `"${need!.name}" comes first`)
      return { kind: 'open', id: step.id, title: step.name, note: step.opened_note, done, waits_for: first.join('; ') }
    }),
    ...facts.looks.map((look): CardItem => {
      const step = look.behind_step_id === null ? undefined : stepName.get(look.behind_step_id)
      const waits = look.result === null && step !== undefined && !step.is_open ? `"${step.name}" must be open` : ''
      return {
        kind: 'look',
        id: look.id,
        title: `Look: ${look.component}`,
        note: look.result ?? '',
        done: look.result !== null,
        waits_for: waits,
      }
    }),
    ...facts.joints.flatMap((joint): CardItem[] => {
      const card: CardItem = {
        kind: 'joint',
        id: joint.id,
        title: joint.name,
        note: joint.sentence,
        done: joint.complete,
        waits_for: '',
      }
      if (!joint.needs_second_person) return [{ ...card, done: joint.signed }]
      const waits = joint.complete ? '' : 'every fastener must be done first'
      const second: CardItem = {
        ...card,
        kind: 'second_person',
        title: `Signed by two people: ${joint.name}`,
        note: '',
        done: joint.signed,
        waits_for: joint.signed ? '' : waits,
      }
      return [card, second]
    }),
    ...facts.tools.map(
      (tool): CardItem => ({
        kind: 'tool',
        id: tool.id,
        title: `${tool.tool} out`,
        note: tool.note,
        done: tool.removed,
        waits_for: '',
      }),
    ),
    ...facts.steps.toReversed().map((step): CardItem => {
      const done = step.times_opened > 0 && !step.is_open
      const waits = step.is_open
        ? inOneClause(step.closing_blockers)
        : step.times_opened === 0
          ? 'it is not open yet'
          : ''
      return {
        kind: 'close',
        id: step.id,
        title: `${step.name}: closed again`,
        note: step.closed_note,
        done,
        waits_for: done ? '' : waits,
      }
    }),
    ...facts.final_checks.map(
      (check): CardItem => ({
        kind: 'final_check',
        id: check.id,
        title: check.text,
        note: check.result ?? '',
        done: check.fine,
        waits_for: check.fine ? '' : waitsForCheck,
      }),
    ),
  ]
}

/** The one thing to touch next: the first that is not done and waits for nothing. */
export function nextItem(items: readonly CardItem[]): CardItem | undefined {
  return items.find(item => !item.done && item.waits_for === '')
}
