/**
 * A fastener as the drawing numbers it, which is by the tightening order, with its position on the joint where that is
 * another number: "Fastener 3 (position 2)".
 */
export function fastenerName(order: readonly number[], position: number): string {
  const number = order.indexOf(position) + 1
  return number === position ? `Fastener ${number}` : `Fastener ${number} (position ${position})`
}
