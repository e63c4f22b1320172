import { geometry, type Place } from '../../core/fastening/geometry.ts'
import { sequence } from '../../core/fastening/sequence.ts'
import { tighteningOrder } from '../../core/fastening/tightening-order.ts'
import type { Layout, OrderNames, StageKind } from '../../core/vocabulary.ts'

/** A procedure's revision as far as its own numbers go. */
export interface RevisionFacts {
  layout: Layout
  positions?: { x_mm: number; y_mm: number }[] | undefined
  count?: number | undefined
  rows?: number | undefined
  order?: number[] | undefined
  order_names?: OrderNames | undefined
  stages: { kind: StageKind; target: number; lower?: number | undefined; upper?: number | undefined }[]
  thread?: string | undefined
  class?: string | undefined
  finish?: string | undefined
}

type Arrangement = Pick<RevisionFacts, 'layout' | 'rows' | 'order' | 'order_names' | 'positions'> & { count: number }

/** How many fasteners a procedure names, where it says so. */
export function fastenerCount(revision: Pick<RevisionFacts, 'positions' | 'count'>): number | undefined {
  return revision.positions?.length ?? revision.count
}

/**
 * The positions, counted from 1, in the order in which they are tightened: the maker's own order when there is one, else
 * that of the layout; a free layout without an order goes as it is numbered.
 */
export function orderOfPositions(revision: Omit<Arrangement, 'positions'>): number[] {
  const { layout, count, rows, order, order_names } = revision
  if (order !== undefined) return tighteningOrder(order, order_names ?? 'positions').order
  if (layout === 'free') return Array.from({ length: count }, (_, at) => at + 1)
  return sequence({ layout, count, rows })
}

/** Where each position stands on a drawing, and its number in the tightening order. */
export function numberedPlaces(revision: Arrangement): (Place & { number: number })[] {
  const { layout, count, rows, positions } = revision
  const places = positions ?? geometry({ layout: layout === 'free' ? 'row' : layout, count, rows })
  const { labels } = tighteningOrder(orderOfPositions(revision), 'positions')
  return places.map((place, at) => ({ ...place, number: labels[at]! }))
}
