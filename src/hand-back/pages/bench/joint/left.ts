import { capital } from '../../../../core/words.ts'
import type { Action } from '../../../../platform/pages/actions.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { moment, nameIn } from '../words.ts'

type Leaving = JointAtBench['joint']['leavings'][number]

/** "Tobin Rask stopped at fastener 4, stage 2 on 4 Nov 2031, 14:36: Called away." */
export function leavingWords(
  { numbers }: Pick<JointAtBench, 'numbers'>,
  leaving: Leaving,
  people: Map<string, string>,
  timeZone: string,
): string {
  const where =
    leaving.position === null ? '' : ` at fastener ${numbers[leaving.position - 1]}, stage ${leaving.stage ?? 1},`
  return `${capital(nameIn(people)(leaving.created_by))} stopped${where} on ${moment(leaving.at, timeZone)}: ${leaving.reason}.`
}

/** "Wen Adeyo carried on on 4 Nov 2031, 15:20." */
export function resumptionWords({ resumption }: Leaving, people: Map<string, string>, timeZone: string): string {
  if (resumption === null) return ''
  const how = resumption.how === 'carry_on' ? 'carried on' : 'started over'
  return `${capital(nameIn(people)(resumption.created_by))} ${how}, ${moment(resumption.at, timeZone)}.`
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
  const { left } = joint
  const where =
    left.position === null ? '' : `, at fastener ${sheet.numbers[left.position - 1]}, stage ${left.stage ?? 1}`
  return {
    heading: `Left half way by ${nameIn(people)(left.created_by)}`,
    sentence: `On ${moment(left.at, timeZone)}${where}: ${left.reason}.`,
    over:
      joint.row.revision.reuse === 'never'
        ? 'Starting over, nothing recorded so far counts: each fastener that was turned is replaced by a new one.'
        : 'Starting over, nothing recorded so far counts: each fastener is loosened first.',
    actions:
      joint.row.handed_back_at === null ? [action('carry_on', 'Carry on'), action('start_over', 'Start over')] : [],
  }
}
