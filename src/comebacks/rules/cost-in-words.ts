import { longDay } from '../../core/days.ts'
import type { RecoveryState } from '../../core/vocabulary.ts'
import type { CostOfReturn } from './return-cost.ts'

/** Writes an amount in minor units as the workshop does. */
type Money = (amountMinor: number) => string

/** "The stay cost us €38.00, €25.00 of it came back from suppliers, and €13.00 is left." */
export function costInWords(cost: CostOfReturn, money: Money): string {
  const { total_minor, recovered_minor } = cost
  const spent = `The stay cost us ${spentMinor(cost) === 0 ? 'nothing' : money(spentMinor(cost))}`
  if (recovered_minor === 0) return `${spent}.`
  const back = `${spent}; suppliers paid ${money(recovered_minor)} of it`
  if (total_minor < 0)
    return `${spent}; suppliers paid ${money(recovered_minor)}, ${money(-total_minor)} more than that.`
  return total_minor === 0 ? `${back}: nothing is left.` : `${back}: ${money(total_minor)} is left.`
}

/** What it cost before anything came back. */
export function spentMinor({ total_minor, recovered_minor }: CostOfReturn): number {
  return total_minor + recovered_minor
}

interface Claim {
  supplier: string
  state: RecoveryState
  amount_minor: number
  deadline_on: string
}

/** "€64.00 claimed from Kestrin Parts, to be settled by 7 November 2031." */
export function claimInWords({ supplier, state, amount_minor, deadline_on }: Claim, money: Money): string {
  const amount = money(amount_minor)
  const by = `, to be settled by ${longDay(deadline_on)}.`
  return {
    claimed: `${amount} claimed from ${supplier}${by}`,
    agreed: `${supplier} has agreed to pay ${amount}${by}`,
    paid: `${supplier} has paid ${amount}.`,
    refused: `${supplier} has refused a claim of ${amount}.`,
    given_up: `A claim of ${amount} on ${supplier} was given up.`,
  }[state]
}
