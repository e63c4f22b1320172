import { type Blocker, inOneClause } from './blockers.ts'

/** One thing to do on a job, in the order of the job: from its sound and marks to its final checks and its sound again. */
export interface CardItem {
  kind:
    | 'sound_before'
    | 'mark'
    | 'open'
    | 'look'
    | 'tool_in'
    | 'joint'
    | 'second_person'
    | 'tool'
    | 'close'
    | 'turn_by_hand'
    | 'start'
    | 'final_check'
    | 'sound_after'
  /** The mark, job step, look, tool, joint or final check; the job itself for its sounds and its engine. */
  id: string
  title: string
  /** What was done, or why it cannot be done yet. */
  note: string
  done: boolean
  /** Why it must wait; empty when it can be done now. */
  waits_for: string
  /** Offered in its place, and nothing waits for it. */
  optional: boolean
  /** Its time is over and it was not done; only what is optional is missed. */
  missed: boolean
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
  /** The marks that must be made first, by whichever job. */
  marks_first: readonly string[]
}

export interface CardFacts {
  job_id: string
  /** Null when the job asks for no sound; the words say when it was recorded. */
  sound: { before: string | null; after: string | null; begun: boolean } | null
  marks: readonly {
    id: string
    text: string
    before_step_id: string | null
    joint_id: string | null
    made: string | null
  }[]
  /** After those they need. */
  steps: readonly CardStep[]
  looks: readonly { id: string; component: string; behind_step_id: string | null; result: string | null }[]
  /** Tools of the plan that nobody has put in. */
  tools_to_come: readonly { id: string; tool: string; count: number; for_step_id: string | null }[]
  joints: readonly {
    id: string
    name: string
    behind_step_id: string | null
    signed: boolean
    needs_second_person: boolean
    waits_for_second_person: boolean
    opened_over: boolean
    sentence: string
  }[]
  tools: readonly { id: string; tool: string; count: number; removed: boolean; in_note: string; out_note: string }[]
  /** Null when the job turns no engine. */
  engine: { by_hand: string | null; started: string | null; blockers: readonly Blocker[] } | null
  final_checks: readonly { id: string; text: string; result: string | null; fine: boolean }[]
}

type Given = Pick<CardItem, 'kind' | 'id' | 'title' | 'done'> & Partial<CardItem>

function item({ note = '', waits_for = '', optional = false, missed = false, ...given }: Given): CardItem {
  return { ...given, note, optional, missed, waits_for: given.done || missed ? '' : waits_for }
}

/**
 * The walk of a job: its sound, position marks, steps opened from the outside in, looks while it is open, tools in, joints,
 * tools out, steps closed from the inside out, the engine by hand and then started, final checks, its sound again. What
 * blocks what is said with each thing that must wait.
 */
export function jobCard(facts: CardFacts): CardItem[] {
  const steps = new Map(facts.steps.map(step => [step.access_step_id, step]))
  /** Why what lies behind a step must wait: it is not open. */
  const behind = (stepId: string | null) => {
    const step = stepId === null ? undefined : steps.get(stepId)
    return step === undefined || step.is_open ? '' : `"${step.name}" must be open`
  }
  return [
    ...soundItem(facts, 'before'),
    ...facts.marks.filter(mark => placeOf(facts, mark) === null).map(markItem),
    ...facts.steps.flatMap(step => [
      ...facts.marks.filter(mark => placeOf(facts, mark) === step.access_step_id).map(mark => markBefore(mark, step)),
      openItem(step, steps),
    ]),
    ...facts.looks.map(look =>
      item({
        ...{ kind: 'look', id: look.id, title: `Look: ${look.component}`, note: look.result ?? '' },
        ...{ done: look.result !== null, waits_for: behind(look.behind_step_id) },
      }),
    ),
    ...facts.tools_to_come.map(tool => {
      const step = tool.for_step_id === null ? undefined : steps.get(tool.for_step_id)
      const missed = step !== undefined && step.times_opened > 0 && !step.is_open
      return item({
        ...{ kind: 'tool_in', id: tool.id, title: `${toolWords(tool)} in`, done: false, optional: true, missed },
        ...{ note: missed ? 'was not put in' : '', waits_for: behind(tool.for_step_id) },
      })
    }),
    ...facts.tools.map(tool =>
      item({ kind: 'tool_in', id: tool.id, title: `${toolWords(tool)} in`, note: tool.in_note, done: true }),
    ),
    ...facts.joints.flatMap(joint => jointItems(facts, joint, behind(joint.behind_step_id))),
    ...facts.tools.map(tool =>
      item({
        ...{ kind: 'tool', id: tool.id, title: `${toolWords(tool)} out`, note: tool.out_note, done: tool.removed },
      }),
    ),
    ...facts.steps.toReversed().map(closeItem),
    ...engineItems(facts),
    ...facts.final_checks.map(check =>
      item({
        ...{ kind: 'final_check', id: check.id, title: check.text, note: check.result ?? '', done: check.fine },
        waits_for: waitsForChecks(facts),
      }),
    ),
    ...soundItem(facts, 'after'),
  ]
}

/** The one thing to touch next: the first that is not done, not missed, and waits for nothing. */
export function nextItem(items: readonly CardItem[]): CardItem | undefined {
  return items.find(each => !each.done && !each.missed && each.waits_for === '')
}

/** What to go on with when the next thing is only offered: the next one that something waits for. */
export function nextNeeded(items: readonly CardItem[]): CardItem | undefined {
  return nextItem(items.filter(each => !each.optional))
}

/** Nothing is left that anything waits for. */
export function allDone(items: readonly CardItem[]): boolean {
  return items.every(each => each.done || each.optional)
}

function toolWords({ tool, count }: { tool: string; count: number }): string {
  return count === 1 ? tool : `${tool}, ${count} of them,`
}

type Mark = CardFacts['marks'][number]

/** The step before which a mark stands on the card: its own, else the one behind which its joint lies; else the very first. */
function placeOf({ joints, steps }: CardFacts, mark: Mark): string | null {
  const joint = joints.find(each => each.id === mark.joint_id)
  const stepId = mark.before_step_id ?? joint?.behind_step_id ?? null
  return steps.some(step => step.access_step_id === stepId) ? stepId : null
}

function markItem({ id, text, made }: Mark): CardItem {
  return item({ kind: 'mark', id, title: text, note: made ?? '', done: made !== null })
}

/** A mark of a joint may be hidden until the step is open, so it says so and does not hold the step up. */
function markBefore(mark: Mark, step: CardStep): CardItem {
  if (mark.joint_id === null || mark.made !== null) return markItem(mark)
  return { ...markItem(mark), note: step.is_open ? '' : `if you cannot see it yet, open "${step.name}" first` }
}

function openItem(step: CardStep, steps: ReadonlyMap<string, CardStep>): CardItem {
  const closed = step.needs.map(id => steps.get(id)).filter(need => need !== undefined && !need.is_open)
  const waits = [
    ...closed.map(need => `"${need!.name}" comes first`),
    ...step.marks_first.map(text => `first: ${text}`),
  ]
  return item({
    ...{ kind: 'open', id: step.id, title: step.name, note: step.opened_note, done: step.times_opened > 0 },
    waits_for: waits.join('; '),
  })
}

function jointItems({ marks }: CardFacts, joint: CardFacts['joints'][number], behind: string): CardItem[] {
  const unmade = marks.filter(mark => mark.joint_id === joint.id && mark.made === null)
  const waits = [behind, ...unmade.map(mark => `first: ${mark.text}`)].filter(Boolean).join('; ')
  const over = joint.opened_over ? 'opened again over it: look whether it was disturbed' : ''
  const note = [joint.sentence, over].filter(Boolean).join('; ')
  const own = { kind: 'joint' as const, id: joint.id, title: joint.name, note, waits_for: waits }
  if (!joint.needs_second_person) return [item({ ...own, done: joint.signed })]
  const isHis = joint.signed || joint.waits_for_second_person
  return [
    item({ ...own, done: isHis }),
    item({
      ...{ kind: 'second_person', id: joint.id, title: `Second person: ${joint.name}`, done: joint.signed },
      note: joint.signed ? '' : SECOND_PERSON,
      waits_for: isHis ? '' : 'whoever tightened it signs first',
    }),
  ]
}

const SECOND_PERSON =
  'Somebody who tightened none of it looks at the marks, counts the fasteners and sees a stripe on each; turns nothing, and signs'

function closeItem(step: CardStep): CardItem {
  return item({
    ...{ kind: 'close', id: step.id, title: `${step.name}: closed again`, note: step.closed_note },
    done: step.times_opened > 0 && !step.is_open,
    waits_for: step.is_open ? inOneClause(step.closing_blockers) : 'it is not open yet',
  })
}

/** By hand as soon as the job's own steps were opened and its joints signed; what else stands in the way is said by the rule. */
function engineItems({ engine, job_id, steps, joints }: CardFacts): CardItem[] {
  if (engine === null) return []
  const isEarly = steps.some(step => step.times_opened === 0)
  const unsigned = joints.filter(joint => !joint.signed)
  const waits = isEarly
    ? 'the work comes first'
    : unsigned.length > 0
      ? 'every joint must be signed first'
      : inOneClause(engine.blockers)
  return [
    item({
      ...{ kind: 'turn_by_hand', id: job_id, title: 'Engine turned by hand, two turns, nothing touches' },
      ...{ note: engine.by_hand ?? '', done: engine.by_hand !== null, waits_for: waits },
    }),
    item({
      ...{ kind: 'start', id: job_id, title: 'First start', note: engine.started ?? '', optional: true },
      done: engine.started !== null,
      waits_for: engine.by_hand === null ? 'by hand first' : inOneClause(engine.blockers),
    }),
  ]
}

function waitsForChecks({ steps, joints, engine }: CardFacts): string {
  if (steps.some(step => step.is_open || step.times_opened === 0)) return 'the strip-down must be done and closed again'
  if (joints.some(joint => !joint.signed)) return 'every joint must be signed first'
  return engine !== null && engine.by_hand === null ? 'the engine must be turned by hand first' : ''
}

function soundItem(facts: CardFacts, moment: 'before' | 'after'): CardItem[] {
  const { sound, job_id } = facts
  if (sound === null) return []
  const recorded = sound[moment]
  const isMissed = moment === 'before' && recorded === null && sound.begun
  const waits = waitsForChecks(facts) || (facts.engine?.started === null ? 'the engine must run first' : '')
  return [
    item({
      ...{ kind: `sound_${moment}`, id: job_id, done: recorded !== null, optional: true, missed: isMissed },
      title: moment === 'before' ? 'Its sound before the work' : 'Its sound after the work',
      note: recorded ?? (isMissed ? 'missing: the work has begun without it' : ''),
      waits_for: moment === 'after' ? waits : '',
    }),
  ]
}
