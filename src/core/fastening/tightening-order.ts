import type { OrderNames } from '../vocabulary.ts'

/** `order`: positions from 1 as they are tightened. `labels`: for each position the number it has in that order. */
export interface TighteningOrder {
  order: number[]
  labels: number[]
}

/** Each list is the inverse of the other: what stands at place i of one tells at which place i stands in the other. */
function inverse(numbers: readonly number[]): number[] {
  const result = new Array<number>(numbers.length)
  numbers.forEach((number, at) => {
    result[number - 1] = at + 1
  })
  return result
}

/**
 * A printed order list in both its readings. Published charts use both: a list may name positions in the order of
 * tightening, or the number printed at each position round the joint; they agree for 4, 8 and 16, and differ for 12, 20
 * and 24 (ASME PCC-1), so what a list names is stored with it.
 *
 * @throws RangeError when the list does not name every number from 1 to its length once.
 */
export function tighteningOrder(list: readonly number[], names: OrderNames): TighteningOrder {
  const isPermutation =
    new Set(list).size === list.length && list.every(n => Number.isInteger(n) && n >= 1 && n <= list.length)
  if (!isPermutation) throw new RangeError(`tighteningOrder requires every number from 1 to ${list.length} once`)
  return names === 'positions'
    ? { order: [...list], labels: inverse(list) }
    : { order: inverse(list), labels: [...list] }
}
