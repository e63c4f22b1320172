import type { Action } from './actions.ts'
import type { Drawing } from './figures/drawing.ts'
import { plainText, type Words } from './words.ts'

/** How a column is set: text, a figure on the right, a date that never breaks, a small plot. */
export type ColumnKind = 'reads' | 'figure' | 'date' | 'plot'

export interface Column {
  label: string
  /** Smaller, under the label. */
  note?: string
  kind: ColumnKind
}

/** A cell: words, or words with smaller notes beneath, a plot, or what can be done with the row. */
export type Cell = Words | { text?: Words; notes?: Words[]; plot?: Drawing; actions?: Action[] }

export interface Row {
  cells: Cell[]
  /** Somebody has signed it: the stripe. */
  signed?: boolean
  /** The sum that everything above adds up to. */
  grand?: boolean
  /** Carries only the axis of the plots. */
  axis?: boolean
}

export interface TableInput {
  caption?: Words
  columns: Column[]
  rows: Row[]
  foot?: Row[]
  /** Said instead of the table when there are no rows. */
  empty?: string
  /** False for a small table that never needs to turn into a list. */
  stacks?: boolean
  /** For pairs with a wide plot. */
  pairs?: boolean
}

interface CellView {
  heading: boolean
  classes: string
  label: string | null
  text: Words
  notes: Words[]
  plot: Drawing | null
  actions: Action[]
}

interface RowView {
  classes: string
  cells: CellView[]
}

/** What partials/table.hbs prints: every cell carries its column's label and class, so the template looks nothing up. */
export interface TableView {
  caption: Words | null
  classes: string
  columns: { label: string; note: string | null; classes: string }[]
  body: RowView[]
  foot: RowView[]
  empty: string | null
}

const CLASSES: Record<ColumnKind, string> = {
  reads: 'reads',
  figure: 'figure-cell',
  date: 'date-cell reads',
  plot: 'plot-cell',
}

export function column(label: string, kind: ColumnKind = 'reads', note?: string): Column {
  return note === undefined ? { label, kind } : { label, kind, note }
}

/**
 * The first cell of a row is its heading unless it is empty; a row with fewer cells than columns is filled up with empty
 * ones, and one with more throws RangeError.
 */
export function table(input: TableInput): TableView {
  return {
    caption: input.caption ?? null,
    classes: [(input.stacks ?? true) && 'stacks', input.pairs && 'pairs'].filter(Boolean).join(' '),
    columns: input.columns.map(({ label, note, kind }) => ({ label, note: note ?? null, classes: CLASSES[kind] })),
    body: input.rows.map(row => rowView(row, input.columns)),
    foot: (input.foot ?? []).map(row => rowView(row, input.columns)),
    empty: input.rows.length === 0 ? (input.empty ?? null) : null,
  }
}

function rowView(row: Row, columns: Column[]): RowView {
  if (row.cells.length > columns.length) {
    throw new RangeError(`table requires at most ${columns.length} cells a row, not ${row.cells.length}`)
  }
  const classes = [row.signed && 'signed', row.grand && 'grand', row.axis && 'axis-row'].filter(Boolean).join(' ')
  return { classes, cells: columns.map((column, place) => cellView(row.cells[place] ?? '', column, place)) }
}

function cellView(cell: Cell, column: Column, place: number): CellView {
  const full = typeof cell === 'string' || isPieces(cell) ? { text: cell } : cell
  const text = full.text ?? ''
  return {
    heading: place === 0 && plainText(text) !== '',
    classes: CLASSES[column.kind],
    label: place === 0 || column.label === '' ? null : [column.label, column.note].filter(Boolean).join(' '),
    text,
    notes: full.notes ?? [],
    plot: full.plot ?? null,
    actions: full.actions ?? [],
  }
}

function isPieces(cell: Exclude<Cell, string>): cell is Exclude<Words, string> {
  return Array.isArray(cell)
}
