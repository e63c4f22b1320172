import { attachmentsOf } from '../../../attachments/index.ts'
import type { AttachmentKind, AttachmentMoment } from '../../../core/vocabulary.ts'
import { jointStates } from '../../../fastening/index.ts'
import { finalCheckResults, findingsOnJobs, lookResults } from '../../../findings/index.ts'
import type { Context } from '../../../platform/context.ts'
import {
  isBeforeWork,
  isDoneByWord,
  marksToMakeBefore,
  missingWords,
  type OrderPlan,
  type PlannedJob,
  standingHandTurn,
  toolsAtJoint,
} from '../../../work-orders/index.ts'
import { findNewestSignOffs } from '../../queries.ts'
import { type OrderFacts, stepBlockersBesideInner } from '../../rules/blockers.ts'
import type { CardFacts } from '../../rules/card-facts.ts'
import { engineBlockers } from '../../rules/engine.ts'
import { checkStands } from '../../rules/final-check.ts'
import { engineFactsOf, openingsOfJob } from '../standing.ts'
import { jointSentence } from './joint-sentence.ts'
import { type Stamp, stampOf } from './stamp.ts'
import { unsaidWork } from './unsaid-work.ts'

const idsOf = (rows: readonly { id: string }[]) => rows.map(row => row.id)

/** What the rule of the card is asked with, for one job of an order. */
export function cardFacts(ctx: Context, plan: OrderPlan, job: PlannedJob, facts: OrderFacts): CardFacts {
  const stamp = stampOf(ctx)
  const joints = jointFacts(ctx, plan, job, stamp)
  return {
    job_id: job.id,
    sound: job.sound_before_after ? soundFacts(ctx, plan, job, stamp, joints) : null,
    marks: markFacts(ctx, job, stamp),
    marks_before_work: job.marks.filter(mark => mark.made === null && isBeforeWork(mark)).map(mark => mark.text),
    steps: stepFacts(plan, job, facts, stamp),
    looks: lookFacts(ctx, plan, job, stamp),
    tools_to_come: job.tools
      .filter(tool => job.tools_in.every(put => put.job_tool_id !== tool.id))
      .map(({ omission, ...tool }) => ({ ...tool, not_used: omission && notUsed(omission, stamp) })),
    joints,
    work: isDoneByWord(job) ? { done: job.completion && stamp(job.completion) } : null,
    tools: job.tools_in.map(tool => ({
      ...tool,
      removed: tool.removed_at !== null,
      in_note: stamp(tool),
      out_note: outNote(tool, stamp),
    })),
    engine: job.turns_engine ? engineFacts(ctx, plan, job, stamp) : null,
    final_checks: checkFacts(ctx, plan, job, stamp),
  }
}

function notUsed(omission: NonNullable<PlannedJob['tools'][number]['omission']>, stamp: Stamp): string {
  return `${omission.reason}, ${stamp({ ...omission, at: omission.created_at })}`
}

function withNote(said: string, note: string | null): string {
  return note === null ? said : `${said}: ${note}`
}

/** A photograph that was asked for and is not there is said plainly. */
function markFacts(ctx: Context, job: PlannedJob, stamp: Stamp): CardFacts['marks'] {
  const attached = attachmentsOf(ctx, { mark_id: idsOf(job.marks) })
  return job.marks.map(({ made, photo, ...mark }) => {
    if (made === null) return { ...mark, made }
    const isMissing = photo === true && attached.get(mark.id)?.some(shows) !== true
    return { ...mark, made: withNote(`${stamp(made)}${isMissing ? '; made, no photo' : ''}`, made.note) }
  })
}

function shows({ kind }: { kind: AttachmentKind }): boolean {
  return kind !== 'sound'
}

/** Since when it is in and what of it is lost; or when it came out, and how it is known that the rest is not inside. */
function outNote(tool: PlannedJob['tools_in'][number], stamp: Stamp): string {
  if (tool.removed_at !== null) {
    return withNote(stamp({ at: tool.removed_at, created_by: tool.removed_by }), tool.not_inside)
  }
  const missing = missingWords(tool)
  if (missing === null) return `in since ${stamp(tool)}`
  return `${missing} (${stamp({ at: tool.short_at ?? tool.at, created_by: tool.short_by })})`
}

/** A sound or a clip on the job itself that says when it was recorded. */
function soundFacts(
  ctx: Context,
  plan: OrderPlan,
  job: PlannedJob,
  stamp: Stamp,
  joints: readonly { begun: boolean }[],
): CardFacts['sound'] {
  const recorded = attachmentsOf(ctx, { job_id: [job.id] }).get(job.id) ?? []
  const said = (moment: AttachmentMoment) => {
    const sound = recorded.find(each => each.kind !== 'photo' && each.moment === moment)
    return sound === undefined ? null : stamp(sound)
  }
  const begun = openingsOfJob(plan, job.id).length > 0 || joints.some(joint => joint.begun)
  return { before: said('before'), after: said('after'), begun }
}

function stepFacts(plan: OrderPlan, job: PlannedJob, facts: OrderFacts, stamp: Stamp): CardFacts['steps'] {
  return plan.steps
    .filter(step => step.job_ids.includes(job.id))
    .map(step => {
      const own = job.steps.find(each => each.access_step_id === step.access_step_id)!
      const opening = plan.openings.findLast(row => row.access_step_id === step.access_step_id)
      const closing = plan.closings.findLast(row => row.access_step_id === step.access_step_id)
      return {
        ...step,
        id: own.id,
        opened_note: opening === undefined ? '' : withNote(stamp(opening), opening.reason),
        closed_note: step.is_open || closing === undefined ? '' : stamp(closing),
        closing_blockers: step.is_open ? stepBlockersBesideInner(facts, step.access_step_id) : [],
        marks_first: step.is_open ? [] : marksToMakeBefore(plan, step),
        unsaid: unsaidWork(plan, step, job.id),
      }
    })
}

function lookFacts(ctx: Context, plan: OrderPlan, job: PlannedJob, stamp: Stamp): CardFacts['looks'] {
  const results = lookResults(ctx, idsOf(job.looks))
  const findings = new Map(findingsOnJobs(ctx, idsOf(plan.jobs)).map(finding => [finding.id, finding]))
  return job.looks.map(look => {
    const result = results.get(look.id)
    if (result === undefined) return { ...look, result: null }
    const finding = result.finding_id === null ? undefined : findings.get(result.finding_id)
    const left = result.skipped_reason === null ? 'fine' : `left out: ${result.skipped_reason}`
    const said = finding === undefined ? left : `found: ${finding.failure_mode ?? finding.note ?? 'not in order'}`
    return { ...look, result: `${said}, ${stamp({ ...result, at: result.created_at })}` }
  })
}

function jointFacts(ctx: Context, plan: OrderPlan, job: PlannedJob, stamp: Stamp) {
  const states = jointStates(ctx, idsOf(job.joints))
  const signedLast = findNewestSignOffs(ctx.read, idsOf(job.joints))
  return job.joints.map(joint => {
    const state = states.get(joint.id)!
    const step = plan.steps.find(each => each.access_step_id === joint.behind_step_id)
    const opened = plan.openings.findLast(row => row.access_step_id === joint.behind_step_id)
    const signed = signedLast.get(joint.id)
    return {
      ...{ id: joint.id, name: joint.name, behind_step_id: joint.behind_step_id, ...state },
      sentence: jointSentence(state, stamp),
      tools_first: state.complete && !state.signed ? toolsAtJoint(plan, joint).closed_in.map(({ tool }) => tool) : [],
      opened_over:
        state.signed && step?.is_open === true && opened !== undefined && signed !== undefined && opened.id > signed,
    }
  })
}

function engineFacts(ctx: Context, plan: OrderPlan, job: PlannedJob, stamp: Stamp): CardFacts['engine'] {
  const byHand = standingHandTurn(plan.engine_turns, plan.openings)
  const started = plan.engine_turns.findLast(turn => turn.how === 'started')
  const facts = engineFactsOf(ctx, plan, job.id)
  const stands = started !== undefined && byHand !== undefined && started.id > byHand.id
  return {
    by_hand: byHand === undefined ? null : withNote(stamp(byHand), byHand.note),
    started: stands ? withNote(stamp(started), started.note) : null,
    blockers: engineBlockers(facts, 'by_hand'),
    start_blockers: engineBlockers(facts, 'started'),
  }
}

function checkFacts(ctx: Context, plan: OrderPlan, job: PlannedJob, stamp: Stamp): CardFacts['final_checks'] {
  const results = finalCheckResults(ctx, idsOf(job.final_checks))
  return job.final_checks.map(check => {
    const result = results.get(check.id)
    if (result === undefined) return { ...check, result: null, fine: false }
    const said = `${result.fine ? 'fine' : 'not fine'}, ${stamp({ ...result, at: result.created_at })}`
    const stands = checkStands(result, openingsOfJob(plan, job.id))
    return {
      ...check,
      result: stands ? said : `${said}; opened again since: check it once more`,
      fine: stands && result.fine,
    }
  })
}
