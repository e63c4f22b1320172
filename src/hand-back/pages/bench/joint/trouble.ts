import { isHalfRedone } from '../../../../core/fastening/own-fault.ts'
import { counted, listed } from '../../../../core/words.ts'
import type { Action } from '../../../../platform/pages/actions.ts'
import type { JointAtBench } from '../../../service/bench/joint.ts'
import { FAULT_WORDS } from '../words.ts'
import { type Chosen, toolsQuery } from './at-hand.ts'

type Fastener = JointAtBench['joint']['state']['fasteners'][number]

interface Trouble {
  sentence: string
  actions: Action[]
}

/** What must be dealt with, each with what the procedure asks for and the way there. */
export function troubleOf(sheet: JointAtBench, chosen: Chosen): Trouble[] {
  const { joint, at_hand } = sheet
  const faulty = joint.state.fasteners.filter(fastener => fastener.fault !== null && !isHalfRedone(fastener))
  const own = faulty.filter(fastener => fastener.fault!.kind !== 'joint_redone')
  return [
    ...wholeJoint(faulty.filter(fastener => fastener.fault!.kind === 'joint_redone')),
    ...own.map(fastener => ({
      sentence: sentenceOf(sheet, fastener),
      actions:
        at_hand?.position === fastener.position || fastener.needs === 'tighten'
          ? []
          : [wayTo(sheet, fastener.position, 'Deal with', chosen)],
    })),
  ]
}

/** Fasteners whose doing again was broken off: said above the form of another one, since they are what is forgotten. */
export function halfRedone(sheet: JointAtBench, chosen: Chosen): Trouble[] {
  return sheet.joint.state.fasteners
    .filter(fastener => isHalfRedone(fastener) && sheet.at_hand?.position !== fastener.position)
    .map(fastener => {
      const number = sheet.numbers[fastener.position - 1]
      const done = stagesDone(fastener)
      const stands =
        done.length === 0
          ? `The new fastener ${number} is in and not tightened`
          : `Fastener ${number} waits half way: ${stageWords(done)} done again, stage ${fastener.next_stage} not`
      return { sentence: `${stands}. Finish it first.`, actions: [wayTo(sheet, fastener.position, 'Finish', chosen)] }
    })
}

/** At the fastener that is being done again: how far it is. */
export function redoneSoFar({ joint, at_hand }: JointAtBench): string | null {
  const own = joint.state.fasteners[(at_hand?.position ?? 0) - 1]
  if (own === undefined || !isHalfRedone(own)) return null
  const done = stagesDone(own)
  return done.length === 0
    ? 'This is the new one: all its stages, from stage 1.'
    : `This one is being done again: ${stageWords(done)} done. Go on here.`
}

function wholeJoint(redone: Fastener[]): Trouble[] {
  if (redone.length === 0) return []
  const isNew = redone.every(fastener => fastener.needs === 'replace')
  const what = isNew ? 'a new one in each place' : 'each one loosened first'
  const left = `${counted(redone.length, 'fastener', 'fasteners')} to go`
  return [{ sentence: `The whole joint is done again, ${what}: all stages, in the order drawn. ${left}.`, actions: [] }]
}

function sentenceOf({ numbers }: JointAtBench, fastener: Fastener): string {
  const { position, fault, needs, next_stage } = fastener
  const name = `Fastener ${numbers[position - 1]}`
  if (needs === 'tighten' && fault!.rule !== 'redo_joint')
    return `${name} is done again as far as stage ${next_stage! - 1}. It goes on with the others.`
  const todo = {
    replace: ' Take it out, fit a new one, all stages again.',
    restart: ' Loosen it, all stages again.',
    tighten: ` Stage ${next_stage} is next on it.`,
    nothing: '',
  }
  return `${name} ${FAULT_WORDS[fault!.kind]} at stage ${fault!.stage}.${todo[needs]}`
}

function stagesDone({ stages }: Fastener): number[] {
  return stages.flatMap(({ stage, record_id }) => (record_id === null ? [] : [stage]))
}

function stageWords(stages: number[]): string {
  return stages.length === 1 ? `stage ${stages[0]} is` : `stages ${listed(stages.map(String))} are`
}

function wayTo({ joint, numbers }: JointAtBench, position: number, verb: string, chosen: Chosen): Action {
  return {
    kind: 'button',
    label: `${verb} no. ${numbers[position - 1]}`,
    href: `/bench/joints/${joint.row.joint.id}${toolsQuery({ position, ...chosen })}#now`,
  }
}
