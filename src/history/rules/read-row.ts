import { DOERS, type Doer, HISTORY_EVENTS, type HistoryEventKind } from '../../core/vocabulary.ts'
import { CellReader } from './cell-reader.ts'
import type { Fault, Places } from './columns.ts'

/** One row of a history file, read and found sound by itself. An empty cell is null. */
export interface HistoryRow {
  /** The physical line on which the record begins; the header is line 1. */
  line: number
  vehicle: string
  family: string
  date: string | null
  distance_km: number | null
  event: HistoryEventKind
  by: Doer | null
  operation: string | null
  component: string | null
  failure_mode: string | null
  symptom: string | null
  hours: number | null
  labour_minor: number | null
  parts_minor: number | null
  warranty_days: number | null
  warranty_km: number | null
  first_registered_on: string | null
  comeback_of: string | null
  /** The file's own `id`. */
  name: string | null
  note: string | null
}

/** A record with all its faults. With any there is no row, but whom it is about may still be checked against others. */
export interface RecordRead {
  row: HistoryRow | null
  faults: Fault[]
  vehicle: string | null
  family: string | null
  name: string | null
}

/**
 * Makes the reader of one file's records.
 *
 * @param width cells in the header.
 * @param clean whether the bytes are UTF-8 without a NUL.
 */
export function rowReader(
  places: Places,
  width: number,
  clean: boolean,
): (cells: readonly string[], line: number) => RecordRead {
  const cell = new CellReader(places, clean)
  return (cells, line) => {
    cell.begin(cells, line)
    if (cells.length === width) return readRow(cell, line)
    const column = columnAt(places, Math.min(cells.length, width - 1))
    cell.fault(column, `has ${cells.length} cells; the header has ${width}`)
    return { row: null, faults: cell.faults, vehicle: null, family: null, name: null }
  }
}

function readRow(cell: CellReader, line: number): RecordRead {
  const vehicle = cell.name('vehicle')
  const family = cell.name('family')
  const date = cell.day('date')
  const event = cell.word('event', HISTORY_EVENTS)
  const by = cell.word('by', DOERS)
  const row = {
    line,
    vehicle: vehicle ?? '',
    family: family ?? '',
    date: date ?? null,
    distance_km: cell.decimal('distance'),
    event: event ?? 'seen',
    by: by ?? (event === 'work' ? 'unknown' : null),
    operation: cell.name('operation'),
    component: cell.name('component'),
    failure_mode: cell.name('failure_mode'),
    symptom: cell.name('symptom'),
    hours: cell.decimal('hours'),
    labour_minor: cell.whole('labour_minor'),
    parts_minor: cell.whole('parts_minor'),
    warranty_days: cell.whole('warranty_days'),
    warranty_km: cell.decimal('warranty_km'),
    first_registered_on: cell.day('first_registered_on') ?? null,
    comeback_of: cell.name('comeback_of'),
    name: cell.name('id'),
    note: cell.text('note'),
  }
  if (vehicle === null) cell.fault('vehicle', 'is empty')
  if (family === null) cell.fault('family', 'is empty')
  if (event === null) cell.fault('event', `is empty; it is one of ${HISTORY_EVENTS.join(', ')}`)
  if (event) checkNeeds(cell, row, event, date === null)
  const { faults } = cell
  return { row: faults.length === 0 ? row : null, faults, vehicle, family, name: row.name }
}

/** What the event of a row needs, and what it may not have. */
function checkNeeds(cell: CellReader, row: HistoryRow, event: HistoryEventKind, isUndated: boolean): void {
  if (isUndated && event !== 'work') cell.fault('date', 'is empty; only work may be undated')
  if (event === 'work' && row.operation === null) cell.fault('operation', 'is empty; work needs one')
  if (event === 'failure' && row.component === null) cell.fault('component', 'is empty; a failure needs one')
  if (row.comeback_of !== null && event !== 'work' && event !== 'failure') {
    cell.fault('comeback_of', `stands on ${event}; only work or a failure can be a comeback`)
  }
}

/** The column that stands at a place, for a record with too few or too many cells. */
function columnAt(places: Places, place: number): string {
  return Object.entries(places).find(([, at]) => at === place)?.[0] ?? `number ${place + 1}`
}
