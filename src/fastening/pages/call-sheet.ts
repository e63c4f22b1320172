import { column, type TableView, table } from '../../platform/pages/table.ts'
import type { Call } from '../service/calls.ts'
import type { InDoubt } from '../service/in-doubt.ts'
import { callWords, leftWords, momentWords, SEVERITY_WORDS, vehicleWords } from './words.ts'

/** What there is to say about one vehicle, and what was said. */
interface Line {
  about: string[]
  call: Call | undefined
}

/** One line for each vehicle: who was reached, when, and what was said, with room to write it where nobody was. */
export function callSheet({ open, vehicles }: InDoubt, calls: ReadonlyMap<string, Call>, timeZone: string): TableView {
  const lines = new Map<string, Line>()
  for (const { cause, joints, parts } of open) {
    for (const { id, vehicle_id, joint_name, severity } of joints) {
      const about = `${joint_name} (${SEVERITY_WORDS[severity].toLowerCase()}), ${cause.because}`
      note(lines, vehicle_id, about, calls.get(id))
    }
    for (const { id, vehicle_id } of parts)
      note(lines, vehicle_id, `part fitted, no joint named, ${cause.because}`, calls.get(id))
  }
  return table({
    stacks: false,
    columns: [
      column('Call'),
      column('Vehicle'),
      column('About'),
      column('Left', 'date'),
      column('Date'),
      column('Who'),
      column('Said'),
    ],
    rows: [...lines].map(([id, { about, call }]) => {
      const vehicle = vehicles.get(id)!
      const said = call === undefined ? ['', '', ''] : [momentWords(call.at, timeZone), call.by ?? '', call.said]
      return { cells: [callWords(vehicle), vehicleWords(vehicle), about.join('; '), leftWords(vehicle), ...said] }
    }),
  })
}

function note(lines: Map<string, Line>, vehicleId: string, about: string, call: Call | undefined): void {
  const before = lines.get(vehicleId) ?? { about: [], call: undefined }
  const newer = call !== undefined && (before.call === undefined || call.at > before.call.at)
  lines.set(vehicleId, {
    about: before.about.includes(about) ? before.about : [...before.about, about],
    call: newer ? call : before.call,
  })
}
