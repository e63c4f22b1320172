import { isCalendarDate } from '../../core/calendar.ts'
import type { Fault, HistoryColumn, Places } from './columns.ts'

const DECIMAL = /^\d+(?:\.\d+)?$/
const WHOLE = /^\d+$/
const UNREADABLE = /[\0\uFFFD]/
const CONTROL = /\p{Cc}/u
const LONGEST_NAME = 200

/**
 * Reads the cells of one record after another, trimmed, and keeps the faults of the present one. An empty cell is null; a
 * faulty one is null too where only its fault matters, and undefined where empty and faulty must be told apart.
 */
export class CellReader {
  private readonly places: Places
  /** Whether the file is UTF-8 without a NUL; if not, every cell that could not be read is a fault. */
  private readonly clean: boolean
  private cells: readonly string[] = []
  private line = 0
  faults: Fault[] = []

  constructor(places: Places, clean: boolean) {
    this.places = places
    this.clean = clean
  }

  begin(cells: readonly string[], line: number): void {
    this.cells = cells
    this.line = line
    this.faults = []
  }

  fault(column: string, reason: string): void {
    this.faults.push({ line: this.line, column, reason })
  }

  text(column: HistoryColumn): string | null {
    const place = this.places[column]
    if (place === undefined) return null
    const cell = this.cells[place]!
    if (cell === '') return null
    if (!this.clean && UNREADABLE.test(cell)) this.fault(column, 'is not readable as UTF-8 text')
    const trimmed = cell.trim()
    return trimmed === '' ? null : trimmed
  }

  /** What becomes the name of something: one line, not endless. */
  name(column: HistoryColumn): string | null {
    const cell = this.text(column)
    if (cell === null) return null
    if (cell.length > LONGEST_NAME) this.fault(column, `is longer than ${LONGEST_NAME} characters`)
    else if (this.clean && CONTROL.test(cell)) this.fault(column, 'has a line end or another control character in it')
    return cell
  }

  decimal(column: HistoryColumn): number | null {
    return this.number(column, DECIMAL, 'a decimal number, such as 12.5')
  }

  whole(column: HistoryColumn): number | null {
    return this.number(column, WHOLE, 'a whole number')
  }

  private number(column: HistoryColumn, form: RegExp, what: string): number | null {
    const cell = this.text(column)
    if (cell === null) return null
    const value = Number(cell)
    if (form.test(cell) && value <= Number.MAX_SAFE_INTEGER) return value
    if (cell.startsWith('-') && form.test(cell.slice(1))) this.fault(column, `${shown(cell)} is negative`)
    else this.fault(column, `${shown(cell)} is ${form.test(cell) ? 'too large' : `not ${what}`}`)
    return null
  }

  /** Undefined when it is no day that exists. */
  day(column: HistoryColumn): string | null | undefined {
    const cell = this.text(column)
    if (cell === null || isCalendarDate(cell)) return cell
    this.fault(column, `${shown(cell)} is not a day that exists, written YYYY-MM-DD`)
    return undefined
  }

  /** Undefined when it is none of the words. */
  word<W extends string>(column: HistoryColumn, words: readonly W[]): W | null | undefined {
    const cell = this.text(column)
    if (cell === null) return null
    const found = words.find(known => known === cell)
    if (found === undefined) this.fault(column, `${shown(cell)} is none of ${words.join(', ')}`)
    return found
  }
}

/** A cell as a fault quotes it: short. */
function shown(cell: string): string {
  return `"${cell.length > 40 ? `${cell.slice(0, 40)}…` : cell}"`
}
