import { sequence } from '../core/fastening/sequence.ts'
import { tighteningOrder } from '../core/fastening/tightening-order.ts'
import type { Layout, OrderNames, StageKind } from '../core/vocabulary.ts'

/** One bad field of what was sent, as a JSON pointer into it. */
export interface Fault {
  pointer: string
  detail: string
  code: string
}

interface Precedence {
  id: string
  needs: readonly string[]
}

/** The steps and all that they need, each once, those that are needed before those that need them. Unknown ids are left out. */
export function withAllNeeded<T extends Precedence>(ids: readonly string[], all: readonly T[]): T[] {
  const byId = new Map(all.map(step => [step.id, step]))
  const result = new Map<string, T>()
  const seen = new Set<string>()
  function visit(id: string): void {
    const step = byId.get(id)
    if (step === undefined || seen.has(id)) return
    seen.add(id)
    step.needs.forEach(visit)
    result.set(id, step)
  }
  ids.forEach(visit)
  return [...result.values()]
}

/** Whether something would need itself in the end, if `id` needed these. `all` holds what every other one needs. */
export function needsItself(id: string, needs: readonly string[], all: readonly Precedence[]): boolean {
  return withAllNeeded(needs, [...all.filter(each => each.id !== id), { id, needs }]).some(each => each.id === id)
}

export interface RevisionFacts {
  layout: Layout
  positions?: { x_mm: number; y_mm: number }[] | undefined
  count?: number | undefined
  rows?: number | undefined
  order?: number[] | undefined
  order_names?: OrderNames | undefined
  stages: { kind: StageKind; target: number; lower?: number | undefined; upper?: number | undefined }[]
}

/** What is wrong with a procedure as it was sent, beyond the form of each field. An empty list: nothing. */
export function revisionFaults(revision: RevisionFacts): Fault[] {
  return [...placeFaults(revision), ...orderFaults(revision), ...revision.stages.flatMap(stageFaults)]
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
    faults.push(wrong('/rows', 'Only a rectangle has rows.'))
  } else if (layout === 'rectangle' && rows === undefined) {
    faults.push(missing('/rows', 'A rectangle needs its number of rows.'))
  }
  const n = fastenerCount({ positions, count })
  if (rows !== undefined && n !== undefined && n % rows !== 0) {
    faults.push(wrong('/rows', `${n} fasteners cannot stand in ${rows} equal rows.`))
  }
  return faults
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
  const isPermutation =
    count === undefined || (order.length === count && new Set(order).size === count && Math.max(...order) === count)
  if (!isPermutation) faults.push(wrong('/order', `The order must name each number from 1 to ${count} once.`))
  return faults
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
  const isAngle = stage.kind === 'angle' || stage.kind === 'loosen'
  if (isAngle && target > 3600) faults.push(wrong(`/stages/${at}/target`, 'Ten turns (3600°) are the most.'))
  return faults
}

/** How many fasteners a procedure names, where it says so. */
export function fastenerCount(revision: Pick<RevisionFacts, 'positions' | 'count'>): number | undefined {
  return revision.positions?.length ?? revision.count
}

/**
 * The positions, counted from 1, in the order in which they are tightened: the maker's own order when there is one, else
 * that of the layout; a free layout without an order goes as it is numbered.
 */
export function orderOfPositions(
  revision: Pick<RevisionFacts, 'layout' | 'rows' | 'order' | 'order_names'> & { count: number },
): number[] {
  const { layout, count, rows, order, order_names } = revision
  if (order !== undefined) return tighteningOrder(order, order_names ?? 'positions').order
  if (layout === 'free') return Array.from({ length: count }, (_, at) => at + 1)
  return sequence({ layout, count, rows })
}

function wrong(pointer: string, detail: string): Fault {
  return { pointer, detail, code: 'wrong' }
}

function missing(pointer: string, detail: string): Fault {
  return { pointer, detail, code: 'missing' }
}
