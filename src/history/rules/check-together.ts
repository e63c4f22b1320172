import { nameKey } from '../../core/name-key.ts'
import type { Fault } from './columns.ts'
import type { HistoryRow, RecordRead } from './read-row.ts'

/** A fault of one of several files. */
export interface FaultOfFile extends Fault {
  file: string
}

/** The row that stands under an `id`; `row` is null when it has faults of its own. */
interface Named {
  file: string
  line: number
  row: HistoryRow | null
}

interface Comeback {
  file: string
  row: HistoryRow
}

/** What the rows of one command say together: unique ids, one family a vehicle, comebacks that can be. */
export interface Together {
  add(file: string, line: number, record: RecordRead): void
  /** Faults that only the whole command shows. */
  faults(): FaultOfFile[]
  /** The families that the vehicles of this command have. */
  vehicles: ReadonlyMap<string, { family: string; first_registered_on: string | null }>
}

/** @param known the family of each vehicle that the database has, by the text that an import named it with. */
export function checkTogether(known: ReadonlyMap<string, string>): Together {
  const vehicles = new Map<string, { family: string; first_registered_on: string | null }>()
  const named = new Map<string, Named>()
  const comebacks: Comeback[] = []
  const found: FaultOfFile[] = []

  function checkFamily(file: string, line: number, { vehicle, family, row }: RecordRead): void {
    if (vehicle === null || family === null) return
    const seen = vehicles.get(vehicle)
    const expected = known.get(vehicle) ?? seen?.family ?? family
    if (family !== expected && nameKey(family) !== nameKey(expected)) {
      const where = known.has(vehicle) ? 'in the database' : 'in an earlier row'
      found.push({ file, line, column: 'family', reason: `is ${family}, and ${vehicle} is a ${expected} ${where}` })
    }
    const registered = row?.first_registered_on ?? null
    if (seen === undefined) vehicles.set(vehicle, { family: expected, first_registered_on: registered })
    else if (registered !== null && (seen.first_registered_on === null || registered < seen.first_registered_on)) {
      seen.first_registered_on = registered
    }
  }

  function checkName(file: string, line: number, { name, row }: RecordRead): void {
    if (name === null) return
    const first = named.get(name)
    if (first === undefined) named.set(name, { file, line, row })
    else {
      const where = first.file === file ? `on line ${first.line}` : `in ${first.file} on line ${first.line}`
      found.push({ file, line, column: 'id', reason: `${name} stands already ${where}` })
    }
  }

  function whyNoComeback(row: HistoryRow, earlier: Named | undefined): string | null {
    if (earlier === undefined) return 'is the id of no row in this import'
    if (earlier.row === null) return null // that row's own faults come first
    if (earlier.row === row) return 'names its own row'
    if (earlier.row.event !== 'work') return `names a row that is ${earlier.row.event}, not work`
    if (earlier.row.vehicle !== row.vehicle) return `names work on another vehicle, ${earlier.row.vehicle}`
    if (earlier.row.date !== null && row.date !== null && earlier.row.date > row.date) {
      return `names work of ${earlier.row.date}, which is later than this row`
    }
    return null
  }

  return {
    vehicles,
    add(file, line, record) {
      checkFamily(file, line, record)
      checkName(file, line, record)
      if (record.row !== null && record.row.comeback_of !== null) comebacks.push({ file, row: record.row })
    },
    faults() {
      const impossible = comebacks.flatMap(({ file, row }): FaultOfFile[] => {
        const why = whyNoComeback(row, named.get(row.comeback_of!))
        return why === null
          ? []
          : [{ file, line: row.line, column: 'comeback_of', reason: `${row.comeback_of} ${why}` }]
      })
      return [...found, ...impossible]
    },
  }
}
