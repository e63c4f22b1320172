/** Stays that wait for a decision: one stay may be suspected of several earlier jobs, and is one thing to think about. */
export function staysToDecide(waiting: readonly { later_order: { id: string } | null }[]): number {
  return new Set(waiting.map(each => each.later_order?.id)).size
}
