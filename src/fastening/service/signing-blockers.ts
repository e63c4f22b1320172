import { capital } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { outBefore, toolsAtJoint, toolsStillIn } from '../../work-orders/index.ts'
import type { Joint } from '../contract.ts'
import { beforeSigning } from '../rules/doubt-words.ts'
import { fastenerName } from '../rules/fastener-name.ts'
import { type FoundDoubt, findDoubts } from './doubts.ts'
import type { LoadedJoint } from './joints.ts'
import { isRedone } from './redone.ts'

type Blockers = Joint['blockers']

const WORDS = {
  stage_missing: 'has not had stage',
  redo: 'must be done again from stage',
  unsure: 'is unsure at stage',
  replace: 'must be replaced, after stage',
} as const

/** The fasteners that are not done. */
export function fastenersToDo({ state, procedure, row }: LoadedJoint): Blockers {
  return state.incomplete.map(({ reason, position, stage }) => ({
    reason,
    sentence: `${fastenerName(procedure.order, position)} ${WORDS[reason]} ${stage}.`,
    href: hrefOf(row.joint),
  }))
}

/**
 * What else stands in the way of signing a joint, however well it is tightened: fasteners that may not stay in it, tools that
 * would be closed in, doubts that nobody has settled.
 *
 * @param beside handed over by whoever has read it already.
 */
export function signingBlockers(ctx: Context, joint: LoadedJoint, beside = besideJoint(ctx, joint)): Blockers {
  return [
    ...joint.fitted.faults.map(fault => ({ ...fault, href: `${hrefOf(joint.row.joint)}#fasteners` })),
    ...closedIn(joint, beside.inside),
    ...openDoubts(ctx, joint, beside.doubts),
  ]
}

/** What the signing of a joint asks for beside the joint itself: its doubts, open and settled, and the tools that are in. */
export function besideJoint(ctx: Context, { row }: LoadedJoint): { doubts: FoundDoubt[]; inside: ToolsStillIn } {
  return { doubts: findDoubts(ctx, [row.joint.id]), inside: toolsStillIn(ctx, row.job.work_order_id) }
}

type ToolsStillIn = ReturnType<typeof toolsStillIn>

function hrefOf({ id }: { id: string }): string {
  return `/bench/joints/${id}`
}

/** Each with the way to take it out. */
function closedIn({ row }: LoadedJoint, inside: ToolsStillIn): Blockers {
  return toolsAtJoint(inside, row.joint).closed_in.map(tool => ({
    reason: 'tool_in',
    sentence: `${capital(tool.tool)} ${tool.count === 1 ? 'is' : `(${tool.count} of them) are`} still in, to come out before ${outBefore(tool, inside.steps)}: take ${tool.count === 1 ? 'it' : 'them'} out first.`,
    href: `/bench/jobs/${tool.job_id}/tools/${tool.id}/out`,
  }))
}

/** What was done in doubt is settled before anybody signs it anew, also where it was tightened again since. */
function openDoubts(ctx: Context, joint: LoadedJoint, doubts: readonly FoundDoubt[]): Blockers {
  return doubts
    .filter(({ doubt }) => doubt.settled === null)
    .map(({ doubt, cause }) => ({
      reason: 'in_doubt',
      sentence: beforeSigning(cause, {
        redone: isRedone(ctx, joint, cause),
        waits_for_second_person: doubt.waits_for_second_person !== null,
      }),
      href: `/in-doubt/joints/${doubt.id}`,
    }))
}
