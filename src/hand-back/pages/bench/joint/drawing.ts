import { oldFasteners } from '../../../../fastening/index.ts'
import { headLabel } from '../../../../platform/pages/figures/bolt-words.ts'
import type { FastenerView, JointInput } from '../../../../platform/pages/figures/joint.ts'
import { link, type Words, words } from '../../../../platform/pages/words.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { FAULT_WORDS } from '../words.ts'
import { type Chosen, toolsQuery } from './at-hand.ts'

/** The joint as it is drawn. On paper, and where nothing can be done, its heads lead nowhere. */
export function jointInput(
  { joint, places, numbers, at_hand }: JointAtBench,
  isLive: boolean,
  chosen: Chosen = {},
): JointInput {
  const { id, name } = joint.row.joint
  const stages = joint.row.revision.stages.length
  const old = oldFasteners(joint)
  const fasteners = joint.state.fasteners.map((fastener, at): FastenerView => {
    const isNext = at_hand?.position === fastener.position
    const fault = fastener.redo ? 'redo' : fastener.unsure ? 'unsure' : 'waiting'
    return {
      number: numbers[at]!,
      ...places[at]!,
      bars: fastener.stages.filter(stage => stage.record_id !== null).length,
      at_stage: fastener.fault?.stage ?? fastener.next_stage ?? stages,
      state: isNext && isLive ? 'next' : !fastener.complete ? fault : old.has(fastener.position) ? 'old' : 'complete',
      ...(fastener.fault !== null && saysWhy(fastener.fault.kind) && { fault: FAULT_WORDS[fastener.fault.kind] }),
      href: isLive ? `/bench/joints/${id}${toolsQuery({ position: fastener.position, ...chosen })}#now` : null,
    }
  })
  return {
    id: 'joint',
    title: `${name}, ${fasteners.length} ${fasteners.length === 1 ? 'fastener' : 'fasteners'}`,
    word: 'fastener',
    stages,
    fasteners,
  }
}

/** What the drawing's own words say already is not said again. */
function saysWhy(kind: keyof typeof FAULT_WORDS): boolean {
  return kind !== 'outside' && kind !== 'unsure'
}

const COUNTED = {
  circle: 'clockwise from the top',
  row: 'from the left',
  rectangle: 'row by row from the top left',
  free: 'as the procedure lists them',
} as const

/** The other numbering, that of the places on the joint: which of them is tightened first, second, third. */
export function positionWords({ row, procedure }: JointAtBench['joint']): string {
  const counted = row.revision.positions === null ? COUNTED[row.revision.layout] : COUNTED.free
  return `counted ${counted}, they are tightened ${procedure.order.join(' ')}`
}

/** The same in words, in tightening order: for whoever cannot see the drawing, and for paper. */
export function inOrder(input: JointInput): { number: number; text: Words }[] {
  return input.fasteners
    .map(fastener => {
      const said = headLabel(fastener, input).replace(/^\S+ \d+, /, '')
      return { number: fastener.number, text: fastener.href === null ? said : words(link(fastener.href, said)) }
    })
    .sort((one, other) => one.number - other.number)
}
