import { type ToolInVehicle, toolsOfOrder } from '../../hand-back/index.ts'
import { column, type TableView, table } from '../../platform/pages/table.ts'
import type { OrderSheet } from '../service/order-sheet.ts'
import type { Pen } from './pen.ts'

/** Everything that went into the vehicle on this order, and its way out; null while nothing did. Voided jobs are among it. */
export function toolsTable({ standing, people }: OrderSheet, pen: Pen): TableView | null {
  const tools = toolsOfOrder(standing.plan)
  if (tools.length === 0) return null
  const said = (at: number, by: string | null, lost: string | null = null) => ({
    text: pen.moment(at),
    notes: [...(by === null ? [] : [people.get(by) ?? 'somebody']), ...(lost === null ? [] : [lost])],
  })
  return table({
    columns: [column('Tool'), column('In'), column('Needed for'), column('Out before'), column('Out')],
    rows: tools.map(({ in_at, in_by, needed_for, out_before, out_at, out_by, lost, ...tool }) => ({
      cells: [
        toolWords(tool),
        said(in_at, in_by),
        needed_for ?? '',
        out_before,
        out_at === null ? (lost ?? 'still in') : said(out_at, out_by, lost),
      ],
    })),
  })
}

function toolWords({ tool, count }: Pick<ToolInVehicle, 'tool' | 'count'>): string {
  return count === 1 ? tool : `${tool}, ${count} of them`
}
