import { inText } from '../../core/words.ts'
import type { CardFacts, CardStep } from './card-facts.ts'
import { type CardItem, item } from './card-item.ts'
import { marksAt } from './card-marks.ts'

/**
 * The walk of a job: its sound, position marks, steps opened from the outside in with the marks that can be seen behind each,
 * looks while it is open, tools in, the work (its joints; where it has none, somebody's word), tools out, steps closed from the
 * inside out, the engine by hand and then started, final checks, its sound again. What blocks what is said with each thing
 * that must wait.
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
    ...marksAt(facts, null),
    ...facts.steps.flatMap(step => [
      ...marksAt(facts, { before: step }),
      openItem(facts.job_id, step, steps),
      ...marksAt(facts, { behind: step }),
    ]),
    ...facts.looks.map(look =>
      item({
        ...{ kind: 'look', id: look.id, title: `Look: ${look.component}`, note: look.result ?? '' },
        ...{ done: look.result !== null, waits_for: behind(look.behind_step_id) },
      }),
    ),
    ...facts.tools_to_come.map(tool => {
      const step = tool.for_step_id === null ? undefined : steps.get(tool.for_step_id)
      if (tool.not_used !== null)
        return item({
          ...{ kind: 'tool_in', id: tool.id, title: `${toolWords(tool)} not used`, note: tool.not_used, done: true },
        })
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
    ...workItem(facts),
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

/** The first thing that is not done and not merely offered, whether or not it can be done now. */
export function firstToDo(items: readonly CardItem[]): CardItem | undefined {
  return items.find(each => !each.done && !each.optional)
}

/** Nothing is left that anything waits for. */
export function allDone(items: readonly CardItem[]): boolean {
  return items.every(each => each.done || each.optional)
}

/** Marks that come first, each as a clause. */
function first(marks: readonly string[]): string[] {
  return marks.map(text => `first: ${text}`)
}

function toolWords({ tool, count }: { tool: string; count: number }): string {
  return count === 1 ? tool : `${tool}, ${count} of them,`
}

function openItem(jobId: string, step: CardStep, steps: ReadonlyMap<string, CardStep>): CardItem {
  const closed = step.needs.map(id => steps.get(id)).filter(need => need !== undefined && !need.is_open)
  return item({
    ...{ kind: 'open', id: step.id, title: step.name, note: step.opened_note, done: step.times_opened > 0 },
    blockers: [
      ...closed.map(need => ({ sentence: `"${need!.name}" comes first.`, href: `/bench/jobs/${jobId}` })),
      ...step.marks_first.map(mark => ({ sentence: `First: ${mark.text}.`, href: `/bench/jobs/${mark.job_id}` })),
    ],
  })
}

function jointItems(facts: CardFacts, joint: CardFacts['joints'][number], behind: string): CardItem[] {
  const ownMarks = facts.marks.filter(mark => mark.joint_id === joint.id && mark.made === null).map(mark => mark.text)
  const toolsFirst = joint.tools_first.map(tool => `first out: ${inText(tool)}`)
  const waits = [behind, ...first([...facts.marks_before_work, ...ownMarks]), ...toolsFirst].filter(Boolean).join('; ')
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
      waits_for: isHis ? toolsFirst.join('; ') : 'whoever tightened it signs first',
    }),
  ]
}

const SECOND_PERSON =
  'Somebody who tightened none of it looks at the marks, counts the fasteners and sees a stripe on each; turns nothing, and signs'

/** The work of a job without a joint: nothing but somebody's word says that it is done. */
function workItem({ work, job_id, steps, marks_before_work }: CardFacts): CardItem[] {
  if (work === null) return []
  // to open the innermost, all before it must be open
  const shut = steps.findLast(step => step.times_opened === 0)
  const isClosed = steps.length > 0 && steps.every(step => step.times_opened > 0 && !step.is_open)
  return [
    item({
      ...{ kind: 'work', id: job_id, title: 'The work itself is done', done: work.done !== null },
      note: work.done ?? (isClosed ? 'closed again over it, and nobody has said so' : ''),
      // the marks stand behind the steps, so they come once these are open
      waits_for: shut === undefined ? first(marks_before_work).join('; ') : `"${shut.name}" must be open`,
    }),
  ]
}

function closeItem(step: CardStep): CardItem {
  return item({
    ...{ kind: 'close', id: step.id, title: `${step.name}: closed again` },
    note: step.is_open ? step.unsaid : step.closed_note,
    done: step.times_opened > 0 && !step.is_open,
    ...(step.is_open ? { blockers: step.closing_blockers } : { waits_for: 'it is not open yet' }),
  })
}

const NOT_BY_FORCE = 'If anything touches, stop and look: never turn it on by force'

/**
 * By hand as soon as the job's own steps were opened and its work is done or its joints signed; what else stands in the way is
 * said by the rule.
 */
function engineItems({ engine, job_id, steps, joints, work }: CardFacts): CardItem[] {
  if (engine === null) return []
  const isEarly = steps.some(step => step.times_opened === 0) || work?.done === null
  const unsigned = joints.filter(joint => !joint.signed)
  const early = isEarly ? 'the work comes first' : unsigned.length > 0 ? 'every joint must be signed first' : ''
  const waits = early === '' ? { blockers: engine.blockers } : { waits_for: early }
  return [
    item({
      ...{ kind: 'turn_by_hand', id: job_id, title: 'Engine turned by hand, two turns, nothing touches' },
      ...{ note: engine.by_hand ?? NOT_BY_FORCE, done: engine.by_hand !== null, ...waits },
    }),
    item({
      ...{ kind: 'start', id: job_id, title: 'First start', note: engine.started ?? '', optional: true },
      done: engine.started !== null,
      ...(engine.by_hand === null ? { waits_for: 'turn it by hand first' } : { blockers: engine.start_blockers }),
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
