import type { CardFacts, CardStep } from './card-facts.ts'
import { type CardItem, item } from './card-item.ts'

type Mark = CardFacts['marks'][number]
/** Where on the card a mark stands: before everything, before a step is opened, or behind it once it is open. */
type Place = { before: CardStep } | { behind: CardStep } | null

/** The marks that stand at one place of the walk. */
export function marksAt(facts: CardFacts, place: Place): CardItem[] {
  return facts.marks.filter(mark => isAt(placeOf(facts, mark), place)).map(mark => markItem(facts, mark, place))
}

function isAt(one: Place, other: Place): boolean {
  if (one === null || other === null) return one === other
  return 'before' in one
    ? 'before' in other && one.before === other.before
    : 'behind' in other && one.behind === other.behind
}

/**
 * Before the step that it names; else behind the one that hides it; else before the step behind which its joint lies; else the
 * very first.
 */
function placeOf({ joints, steps }: CardFacts, mark: Mark): Place {
  const stepOf = (id: string | null | undefined) => steps.find(step => step.access_step_id === id)
  const before = stepOf(mark.before_step_id)
  const behind = stepOf(mark.behind_step_id)
  if (before !== undefined) return { before }
  if (behind !== undefined) return { behind }
  const overJoint = stepOf(joints.find(each => each.id === mark.joint_id)?.behind_step_id)
  return overJoint === undefined ? null : { before: overJoint }
}

/** A mark of a joint may be hidden until the step is open, so it says so and does not hold the step up. */
function markItem({ steps }: CardFacts, { id, text, made, joint_id, behind_step_id }: Mark, place: Place): CardItem {
  const hidden = steps.find(step => step.access_step_id === behind_step_id && step.times_opened === 0)
  const mayBeHidden =
    place !== null && 'before' in place && joint_id !== null && !place.before.is_open
      ? `if you cannot see it yet, open "${place.before.name}" first`
      : ''
  return item({
    ...{ kind: 'mark', id, title: text, note: made ?? mayBeHidden, done: made !== null },
    waits_for: hidden === undefined ? '' : `it is behind "${hidden.name}"`,
  })
}
