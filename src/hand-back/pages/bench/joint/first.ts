import { capital } from '../../../../core/words.ts'
import type { Action } from '../../../../platform/pages/actions.ts'
import { addAttachmentAddress } from '../../../../platform/pages/attachments.ts'
import { link, type Words, words } from '../../../../platform/pages/words.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { cardHref } from '../links.ts'
import { moment } from '../words.ts'

/** Position marks that come before anything is turned, each with the way to make it. */
export function marksToMake({ joint, marks_first }: JointAtBench): { text: string; actions: Action[] }[] {
  const here = `/bench/joints/${joint.row.joint.id}`
  return marks_first.map(({ id, text }) => ({
    text: `${text}: mark it before anything is turned. Afterwards nobody knows where it stood.`,
    actions: [
      {
        kind: 'post',
        label: 'Marked',
        about: text,
        main: true,
        action: `${here}/marks`,
        hidden: [{ name: 'mark_id', value: id }],
      },
      { kind: 'button', label: 'Photograph it', about: text, href: addAttachmentAddress('mark_id', id, `${here}#now`) },
    ],
  }))
}

const WAYS: Record<string, string> = {
  tool_in: 'Take it out',
  in_doubt: 'The doubt',
  temporary_fasteners: 'The fasteners',
  new_fasteners_missing: 'The fasteners',
  fasteners_not_inspected: 'The fasteners',
}

/** What keeps it from being signed, beside the stages of its fasteners; each with the way there. */
export function notYet({ blockers }: JointAtBench): Words[] {
  return blockers.map(({ reason, sentence, href }) =>
    words(`${sentence} `, link(href, WAYS[reason] ?? 'The way there')),
  )
}

/** Tools that must come out before it is signed: said before it is done, while they can still be reached. */
export function outBeforeSigning({ joint, tools_in }: JointAtBench): Words | null {
  const tools = tools_in.filter(({ closed_in }) => closed_in)
  if (joint.state.complete || tools.length === 0) return null
  const pieces = tools.flatMap((tool, at) => [
    at === 0 ? '' : ', ',
    link(outHref(tool), tool.count === 1 ? tool.tool : `${tool.tool} (${tool.count} of them)`),
  ])
  return words('take out ', ...pieces, '.')
}

/** 'Plug, since 09:10, to come out before "Wheel off" is closed': the strip of what is in the vehicle now. */
export function toolsInside({ tools_in }: JointAtBench, timeZone: string): string | null {
  if (tools_in.length === 0) return null
  const each = ({ tool, count, in_at, out_before }: JointAtBench['tools_in'][number]) =>
    `${count === 1 ? '' : `${count} × `}${tool}, since ${moment(in_at, timeZone)}, to come out before ${out_before}`
  return `${tools_in.map(each).join('; ')}.`
}

/** Tools that may stay in while it is signed, if it does not close over them: whoever signs says so. */
export function toolsBeside({ joint, tools_in }: JointAtBench): Words[] {
  if (joint.signed) return []
  return tools_in
    .filter(({ beside }) => beside)
    .map(tool =>
      words(`${capital(tool.tool)}, to come out before ${tool.out_before}. `, link(outHref(tool), 'Take it out')),
    )
}

function outHref({ id, job_id }: { id: string; job_id: string }): string {
  return `${cardHref(job_id)}/tools/${id}/out`
}
