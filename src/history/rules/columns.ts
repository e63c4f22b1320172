/** The columns of the history format. A file may have them in any order, and only the required ones must be there. */
const HISTORY_COLUMNS = [
  'vehicle',
  'family',
  'date',
  'distance',
  'event',
  'by',
  'operation',
  'component',
  'failure_mode',
  'symptom',
  'hours',
  'labour_minor',
  'parts_minor',
  'warranty_days',
  'warranty_km',
  'first_registered_on',
  'comeback_of',
  'id',
  'note',
] as const
export type HistoryColumn = (typeof HISTORY_COLUMNS)[number]

const REQUIRED: readonly HistoryColumn[] = ['vehicle', 'family', 'date', 'event']

/** What is wrong with one cell of a file, or (without line and column) with the file as a whole. */
export interface Fault {
  line: number | null
  column: string | null
  reason: string
}

/** At which place of a record each column stands; a column that the file lacks has none. */
export type Places = Partial<Record<HistoryColumn, number>>

function isColumn(name: string): name is HistoryColumn {
  return (HISTORY_COLUMNS as readonly string[]).includes(name)
}

/** Reads the header row: line 1 of the file, or wherever it begins when empty lines stand before it. */
export function readHeader(cells: readonly string[], line: number): { places: Places; faults: Fault[] } {
  const places: Places = {}
  const faults: Fault[] = []
  cells.forEach((cell, place) => {
    const name = cell.trim()
    const column = name === '' ? `number ${place + 1}` : name
    if (!isColumn(name)) {
      const hint = /[;\t]/.test(name) ? ' Columns are parted by commas.' : ''
      faults.push({ line, column, reason: `is not a column of the history format.${hint}` })
    } else if (places[name] !== undefined) {
      faults.push({ line, column, reason: 'stands in the header twice' })
    } else {
      places[name] = place
    }
  })
  for (const column of REQUIRED) {
    if (places[column] === undefined) faults.push({ line, column, reason: 'is missing from the header' })
  }
  return { places, faults }
}
