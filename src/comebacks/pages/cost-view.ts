import { counted } from '../../core/words.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import { spentMinor } from '../rules/cost-in-words.ts'
import type { CostOfReturn } from '../rules/return-cost.ts'

/** What a stay that came back cost us, line by line, what came back of it, and what is left. */
export function costTable(cost: CostOfReturn, money: (amountMinor: number) => string): TableView {
  const { hours_not_billed, labour_minor, parts_minor, goodwill_minor, recovered_minor, total_minor } = cost
  return table({
    stacks: false,
    columns: [column('What'), column('Cost', 'figure')],
    rows: [
      { cells: [`${counted(hours_not_billed ?? 0, 'hour')} not billed, at the cost rate`, money(labour_minor)] },
      { cells: ['Parts not billed, at what they cost us', money(parts_minor)] },
      { cells: ['Discount on what the customer paid', money(goodwill_minor)] },
    ],
    foot: [
      { cells: ['It cost', money(spentMinor(cost))] },
      { cells: ['Came back from suppliers', money(recovered_minor)] },
      total_minor < 0
        ? { grand: true, cells: ['Came back beyond the cost', money(-total_minor)] }
        : { grand: true, cells: ['Left with us', money(total_minor)] },
    ],
  })
}
