import type { Fault } from './fault.ts'
import { fastenerCount, type RevisionFacts } from './tightening.ts'
import { torqueFaults } from './torque-sense.ts'

/** Four turns: no joint of a vehicle is turned further in one stage. Common practice, no source. */
export const MOST_DEGREES = 1440

/** Two fasteners cannot stand nearer than this; most likely one place was typed twice. In mm. */
const SAME_PLACE_MM = 0.5

/** What is wrong with a procedure as it was sent, beyond the form of each field. An empty list: nothing. */
export function revisionFaults(revision: RevisionFacts): Fault[] {
  return [
    ...placeFaults(revision),
    ...sharedPlaces(revision.positions ?? []),
    ...orderFaults(revision),
    ...revision.stages.flatMap(stageFaults),
    ...turnFaults(revision.stages),
    ...torqueFaults(revision),
  ]
}

function placeFaults({ layout, positions, count, rows }: RevisionFacts): Fault[] {
  const faults: Fault[] = []
  if (positions === undefined && layout === 'free') {
    faults.push(missing('/positions', 'A free layout needs the positions of its fasteners, in mm.'))
  } else if (positions === undefined && count === undefined) {
    faults.push(missing('/count', 'Give the number of fasteners, or their positions.'))
  }
  if (positions !== undefined && count !== undefined && positions.length !== count) {
    faults.push(wrong('/count', `There are ${positions.length} positions, and the number given is ${count}.`))
  }
  if (layout !== 'rectangle' && rows !== undefined) {
    faults.push(wrong('/rows', 'Only a rectangle has rows. Leave this empty, or choose the rectangle.'))
  } else if (layout === 'rectangle' && rows === undefined) {
    faults.push(missing('/rows', 'A rectangle needs its number of rows.'))
  }
  const n = fastenerCount({ positions, count })
  if (rows !== undefined && n !== undefined && n % rows !== 0) {
    faults.push(wrong('/rows', `${n} fasteners cannot stand in ${rows} equal rows.`))
  }
  return faults
}

function sharedPlaces(positions: readonly { x_mm: number; y_mm: number }[]): Fault[] {
  return positions.flatMap((place, at) => {
    const first = positions.findIndex(
      other => Math.hypot(other.x_mm - place.x_mm, other.y_mm - place.y_mm) < SAME_PLACE_MM,
    )
    return first < at
      ? [wrong(`/positions/${at}`, `Fastener ${at + 1} stands in the same place as fastener ${first + 1}.`)]
      : []
  })
}

function orderFaults(revision: RevisionFacts): Fault[] {
  const { order, order_names } = revision
  if (order === undefined) {
    return order_names === undefined ? [] : [missing('/order', 'Give the order that these numbers belong to.')]
  }
  const faults: Fault[] = []
  if (order_names === undefined) {
    faults.push(
      missing('/order_names', 'Say whether the numbers name positions, or the order printed at each position.'),
    )
  }
  const count = fastenerCount(revision)
  if (count !== undefined) faults.push(...permutationFaults(order, count))
  return faults
}

/** What keeps a list from naming each number from 1 to the count once, in one sentence. */
function permutationFaults(order: readonly number[], count: number): Fault[] {
  const twice = order.find((number, at) => order.indexOf(number) < at)
  const beyond = order.find(number => number > count)
  const left = Array.from({ length: count }, (_, at) => at + 1).find(number => !order.includes(number))
  const because =
    twice !== undefined
      ? `${twice} stands there twice`
      : beyond !== undefined
        ? `there is no fastener ${beyond}`
        : left !== undefined && `${left} is not there`
  return because === false
    ? []
    : [wrong('/order', `The order must name each number from 1 to ${count} once: ${because}.`)]
}

function stageFaults(stage: RevisionFacts['stages'][number], at: number): Fault[] {
  const { target, lower, upper } = stage
  const faults: Fault[] = []
  if (lower !== undefined && lower > target) {
    faults.push(wrong(`/stages/${at}/lower`, `The lower limit ${lower} lies above the target ${target}.`))
  }
  if (upper !== undefined && upper < target) {
    faults.push(wrong(`/stages/${at}/upper`, `The upper limit ${upper} lies below the target ${target}.`))
  }
  if (lower !== undefined && lower === upper && lower === target) {
    faults.push(
      wrong(
        `/stages/${at}/upper`,
        'Both limits are the target: no tool can prove that. Leave both empty, or set them apart.',
      ),
    )
  }
  const isAngle = stage.kind === 'angle' || stage.kind === 'loosen'
  if (isAngle && target > MOST_DEGREES) {
    const turns = `Four turns (${MOST_DEGREES}°) are the most that one stage may turn.`
    faults.push({ pointer: `/stages/${at}/target`, detail: turns, code: 'does_not_fit' })
  }
  return faults
}

/** What cannot be done yet when its turn comes. */
function turnFaults(stages: RevisionFacts['stages']): Fault[] {
  const firstTorque = stages.findIndex(({ kind }) => kind === 'torque')
  return stages.flatMap(({ kind }, at) => {
    if (kind === 'loosen' && at === 0) {
      return [wrong('/stages/0/kind', 'Nothing is tight yet that could be loosened. Begin with a torque or an angle.')]
    }
    const isEarly = kind === 'check' && (firstTorque === -1 || at < firstTorque)
    return isEarly
      ? [
          wrong(
            `/stages/${at}/kind`,
            'A torque can only be checked after one has been put on. Put a torque stage before it.',
          ),
        ]
      : []
  })
}

function wrong(pointer: string, detail: string): Fault {
  return { pointer, detail, code: 'wrong' }
}

function missing(pointer: string, detail: string): Fault {
  return { pointer, detail, code: 'missing' }
}
