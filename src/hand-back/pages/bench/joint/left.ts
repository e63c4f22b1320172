import { localDateOf, localTimeOf } from '../../../../core/calendar.ts'
import { shortDay } from '../../../../core/days.ts'
import type { Action } from '../../../../platform/pages/actions.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'

type Leaving = JointAtBench['joint']['leavings'][number]

/** "Tobin Rask stopped at fastener 4, stage 2 on 4 Nov 2031, 14:36: Called away." */
export function leavingWords(
  { numbers }: Pick<JointAtBench, 'numbers'>,
  leaving: Leaving,
  people: Map<string, string>,
  timeZone: string,
): string {
  const at = momentWords(leaving.at, timeZone)
  const where =
    leaving.position === null ? '' : ` at fastener ${numbers[leaving.position - 1]}, stage ${leaving.stage ?? 1},`
  return `${nameOf(people, leaving.created_by)} stopped${where} on ${at}: ${leaving.reason}.`
}

/** "Wen Adeyo carried on on 4 Nov 2031, 15:20." */
export function resumptionWords({ resumption }: Leaving, people: Map<string, string>, timeZone: string): string {
  if (resumption === null) return ''
  const how = resumption.how === 'carry_on' ? 'carried on' : 'started over'
  return `${nameOf(people, resumption.created_by)} ${how}, ${momentWords(resumption.at, timeZone)}.`
}

export function momentWords(at: number, timeZone: string): string {
  return `${shortDay(localDateOf(at, timeZone))}, ${localTimeOf(at, timeZone)}`
}

function nameOf(people: Map<string, string>, id: string | null): string {
  return (id === null ? undefined : people.get(id)) ?? 'Somebody'
}

/** Who stopped where, when and why, and the two ways on; null on a joint that nobody has left. */
export function leftView(sheet: JointAtBench, people: Map<string, string>, timeZone: string) {
  const { joint } = sheet
  if (joint.left === null) return null
  const action = (how: 'carry_on' | 'start_over', label: string): Action => ({
    kind: 'post',
    label,
    ...(how === 'carry_on' && { main: true }),
    action: `/bench/joints/${joint.row.joint.id}/resumptions`,
    hidden: [
      { name: 'leaving_id', value: joint.left!.id },
      { name: 'how', value: how },
    ],
  })
  return {
    sentence: leavingWords(sheet, joint.left, people, timeZone),
    over:
      joint.row.revision.reuse === 'never'
        ? 'Starting over, nothing recorded so far counts: each fastener that was turned is replaced by a new one.'
        : 'Starting over, nothing recorded so far counts: each fastener is loosened first.',
    actions:
      joint.row.handed_back_at === null ? [action('carry_on', 'Carry on'), action('start_over', 'Start over')] : [],
  }
}
