import { isCalendarDate } from '../../core/calendar.ts'
import { DOERS, type Doer, HISTORY_EVENTS, type HistoryEventKind } from '../../core/vocabulary.ts'
import type { Fault, HistoryColumn, Places } from './columns.ts'

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

/** How the records of one file are read. */
export interface RowReading {
  places: Places
  /** Cells in the header. */
  width: number
  /** Whether the bytes are UTF-8 without a NUL; if not, every cell that could not be read is a fault. */
  clean: boolean
}

/** A record with all its faults. With any there is no row, but whom it is about may still be checked against others. */
export interface RecordRead {
  row: HistoryRow | null
  faults: Fault[]
  vehicle: string | null
  family: string | null
  name: string | null
}

const DECIMAL = /^\d+(?:\.\d+)?$/
const WHOLE = /^\d+$/
const UNREADABLE = /[\0\uFFFD]/
const CONTROL = /\p{Cc}/u
const LONGEST_NAME = 200

/** Reads one record of a history file; its cells are trimmed. */
export function readRow(cells: readonly string[], line: number, reading: RowReading): RecordRead {
  const faults: Fault[] = []
  const fault = (column: string, reason: string) => {
    faults.push({ line, column, reason })
  }
  if (cells.length !== reading.width) {
    const place = Math.min(cells.length, reading.width - 1)
    fault(columnAt(reading.places, place), `has ${cells.length} cells; the header has ${reading.width}`)
    return { row: null, faults, vehicle: null, family: null, name: null }
  }
  const text = (column: HistoryColumn): string | null => {
    const place = reading.places[column]
    const cell = place === undefined ? '' : cells[place]!.trim()
    if (!reading.clean && UNREADABLE.test(cell)) fault(column, 'is not readable as UTF-8 text')
    return cell === '' ? null : cell
  }
  /** What becomes the name of something: one line, not endless. */
  const name = (column: HistoryColumn): string | null => {
    const cell = text(column)
    if (cell === null) return null
    if (cell.length > LONGEST_NAME) fault(column, `is longer than ${LONGEST_NAME} characters`)
    else if (reading.clean && CONTROL.test(cell)) fault(column, 'has a line end or another control character in it')
    return cell
  }
  const number = (column: HistoryColumn, form: RegExp, what: string): number | null => {
    const cell = text(column)
    if (cell === null) return null
    const value = Number(cell)
    if (form.test(cell) && value <= Number.MAX_SAFE_INTEGER) return value
    if (cell.startsWith('-') && form.test(cell.slice(1))) fault(column, `${shown(cell)} is negative`)
    else fault(column, `${shown(cell)} is ${form.test(cell) ? 'too large' : `not ${what}`}`)
    return null
  }
  const decimal = (column: HistoryColumn) => number(column, DECIMAL, 'a decimal number, such as 12.5')
  const whole = (column: HistoryColumn) => number(column, WHOLE, 'a whole number')
  /** Null when empty, undefined when it is no day. */
  const day = (column: HistoryColumn): string | null | undefined => {
    const cell = text(column)
    if (cell === null || isCalendarDate(cell)) return cell
    fault(column, `${shown(cell)} is not a day that exists, written YYYY-MM-DD`)
    return undefined
  }
  /** Null when empty, undefined when it is none of the words. */
  const word = <W extends string>(column: HistoryColumn, words: readonly W[]): W | null | undefined => {
    const cell = text(column)
    if (cell === null) return null
    const found = words.find(known => known === cell)
    if (found === undefined) fault(column, `${shown(cell)} is none of ${words.join(', ')}`)
    return found
  }

  const vehicle = name('vehicle')
  const family = name('family')
  const date = day('date')
  const distance_km = decimal('distance')
  const event = word('event', HISTORY_EVENTS)
  const by = word('by', DOERS)
  const rest = {
    operation: name('operation'),
    component: name('component'),
    failure_mode: name('failure_mode'),
    symptom: name('symptom'),
    hours: decimal('hours'),
    labour_minor: whole('labour_minor'),
    parts_minor: whole('parts_minor'),
    warranty_days: whole('warranty_days'),
    warranty_km: decimal('warranty_km'),
    first_registered_on: day('first_registered_on') ?? null,
    comeback_of: name('comeback_of'),
    name: name('id'),
    note: text('note'),
  }
  if (vehicle === null) fault('vehicle', 'is empty')
  if (family === null) fault('family', 'is empty')
  if (event === null) fault('event', `is empty; it is one of ${HISTORY_EVENTS.join(', ')}`)
  if (date === null && event && event !== 'work') fault('date', 'is empty; only work may be undated')
  if (event === 'work' && rest.operation === null) fault('operation', 'is empty; work needs one')
  if (event === 'failure' && rest.component === null) fault('component', 'is empty; a failure needs one')
  if (rest.comeback_of !== null && event && event !== 'work' && event !== 'failure') {
    fault('comeback_of', `stands on ${event}; only work or a failure can be a comeback`)
  }
  const said = { faults, vehicle, family, name: rest.name }
  if (faults.length > 0 || vehicle === null || family === null || !event || date === undefined)
    return { row: null, ...said }
  const doer = by ?? (event === 'work' ? 'unknown' : null)
  return { row: { line, vehicle, family, date, distance_km, event, by: doer, ...rest }, ...said }
}

/** The column that stands at a place, for a record with too few or too many cells. */
function columnAt(places: Places, place: number): string {
  return Object.entries(places).find(([, at]) => at === place)?.[0] ?? `number ${place + 1}`
}

/** A cell as a fault quotes it: short. */
function shown(cell: string): string {
  return `"${cell.length > 40 ? `${cell.slice(0, 40)}…` : cell}"`
}
