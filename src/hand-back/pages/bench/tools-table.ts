import type { Context } from '../../../platform/context.ts'
import { column, type TableView, table } from '../../../platform/pages/table.ts'
import type { OrderPlan } from '../../../work-orders/index.ts'
import { stampOf } from '../../service/bench/stamp.ts'
import { toolsOfOrder } from '../../service/tools-in-vehicle.ts'

/** Everything that went into the vehicle, by any job of the order, and its way out; null while nothing did. */
export function toolsTable(ctx: Context, plan: OrderPlan): TableView | null {
  const stamp = stampOf(ctx)
  const tools = toolsOfOrder(plan)
  if (tools.length === 0) return null
  return table({
    columns: [column('Tool'), column('In'), column('Needed for'), column('Out before'), column('Out')],
    rows: tools.map(({ tool, count, in_at, in_by, needed_for, out_before, out_at, out_by, lost }) => ({
      cells: [
        count === 1 ? tool : `${tool}, ${count} of them`,
        stamp({ at: in_at, created_by: in_by }),
        needed_for ?? '',
        out_before,
        out_at === null
          ? (lost ?? 'still in')
          : { text: stamp({ at: out_at, created_by: out_by }), notes: lost === null ? [] : [lost] },
      ],
    })),
  })
}
