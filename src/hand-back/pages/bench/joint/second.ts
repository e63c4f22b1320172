import type { Settings } from '../../../../accounts/index.ts'
import type { Words } from '../../../../platform/pages/words.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'

/** Who can still be the second person, while nobody has been: "Marta Oake or Wen Adeyo". */
export function secondFact({ joint, second_people }: JointAtBench): { label: string; value: Words }[] {
  if (second_people === null || joint.signed || joint.row.handed_back_at !== null) return []
  const names = second_people.map(({ name }) => name)
  const value =
    names.length === 0
      ? 'nobody is left: everybody who may sign has tightened some of it'
      : `${eitherOf(names)}: whoever tightens none of it`
  return [{ label: 'Second person', value }]
}

/** Said before it is too late: whoever tightens the next fastener is the only one who could have been the second person. */
export function lastSecond(
  { joint, second_people }: JointAtBench,
  me: string | null,
  { look_again_after_minutes: minutes }: Settings,
): string | null {
  const isOpen = joint.row.handed_back_at === null && !joint.state.complete
  if (!isOpen || second_people === null || !second_people.some(({ id }) => id === me)) return null
  if (second_people.some(({ id }) => id !== me)) return null
  const then =
    minutes === undefined
      ? 'nobody is left to sign as the second person'
      : `you can only look again yourself, ${minutes} minutes after signing`
  return `You are the only one left who could be its second person. If you tighten any of it, ${then}.`
}

export function eitherOf(names: string[]): string {
  return names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} or ${names.at(-1)}`
}
