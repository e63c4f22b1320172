import { sumMinor, timesMinor } from '../../core/money.ts'
import type { Bearer } from '../../core/vocabulary.ts'

/** A stay that came back, as it was worked on and as it was invoiced. */
export interface ReturnToCost {
  /** Hours of the work order: shared strip-down once, and again where it was opened again. */
  hours: number
  parts: readonly { part_id: string; quantity: number; cost_minor: number }[]
  lines: readonly { kind: string; part_id?: string; quantity: number; line_minor: number }[]
  discount_minor: number
  /** What the customer paid, tax included. */
  gross_minor: number
  /** What we bore of the total, tax included. */
  borne_minor: number
  /** What suppliers have paid us for it. */
  recovered_minor: number
}

/** What a return cost us, in minor units. An imported one may not state its hours. */
export interface CostOfReturn {
  hours_not_billed: number | null
  labour_minor: number
  parts_minor: number
  goodwill_minor: number
  recovered_minor: number
  total_minor: number
}

/**
 * Cost of a return = hours not billed × cost rate + parts not billed + goodwill − recovered.
 *
 * Hours are billed as far as labour lines with a price name them, parts unless every line that names them is without a
 * price; of what is billed, the share that we bore is not. Goodwill is the discount on what the customer did pay. Each sum
 * of money is rounded once.
 */
export function costOfReturn(stay: ReturnToCost, costRateMinor: number): CostOfReturn {
  const total = stay.gross_minor + stay.borne_minor
  const paid = total === 0 ? 0 : stay.gross_minor / total
  const priced = stay.lines.filter(line => line.line_minor > 0)
  const billed = priced.filter(line => line.kind === 'labour').reduce((hours, line) => hours + line.quantity, 0)
  const hours = stay.hours - Math.min(stay.hours, billed) * paid
  const isBilled = (partId: string) => {
    const naming = stay.lines.filter(line => line.part_id === partId)
    return naming.length === 0 || naming.some(line => line.line_minor > 0)
  }
  const parts = stay.parts.map(part => {
    const cost = timesMinor(part.quantity, part.cost_minor)
    return isBilled(part.part_id) ? cost * (1 - paid) : cost
  })
  const money = {
    labour_minor: Math.round(hours * costRateMinor),
    parts_minor: Math.round(parts.reduce((sum, cost) => sum + cost, 0)),
    goodwill_minor: Math.round(stay.discount_minor * paid),
  }
  const { recovered_minor } = stay
  return {
    hours_not_billed: Math.round(hours * 100) / 100,
    ...money,
    recovered_minor,
    total_minor: sumMinor(Object.values(money)) - recovered_minor,
  }
}

/** Whether it was decided that the customer pays nothing for a comeback. */
export function isFree(borneBy: Bearer | null | undefined): borneBy is 'us' | 'supplier' {
  return borneBy === 'us' || borneBy === 'supplier'
}

/** An imported return states what labour and parts cost the shop; null when it states neither. */
export function statedCost(row: {
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
}): CostOfReturn | null {
  if (row.labour_minor === null && row.parts_minor === null) return null
  const [labour_minor, parts_minor] = [row.labour_minor ?? 0, row.parts_minor ?? 0]
  return {
    hours_not_billed: row.hours,
    ...{ labour_minor, parts_minor, goodwill_minor: 0, recovered_minor: 0 },
    total_minor: sumMinor([labour_minor, parts_minor]),
  }
}
