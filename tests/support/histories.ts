import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import { addDays } from '../../src/core/calendar.ts'
import { type HistoryFile, type ImportResult, importHistory } from '../../src/history/index.ts'
import type { Context } from '../../src/platform/context.ts'

/** A file in a folder that is gone after the test. */
export function historyFile(content: string | Buffer, name = 'history.csv'): HistoryFile {
  const folder = mkdtempSync(join(tmpdir(), 'witness-mark-history-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  const path = join(folder, name)
  writeFileSync(path, content)
  return { name, path }
}

/** Rows given as objects, as a file of the history format: the header holds every column that any row has. */
export function historyCsv(rows: Record<string, string | number>[]): string {
  const columns = [...new Set(rows.flatMap(row => Object.keys(row)))]
  const cell = (value: string | number | undefined) => {
    const text = String(value ?? '')
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text
  }
  return [columns, ...rows.map(row => columns.map(column => row[column]))]
    .map(cells => cells.map(cell).join(','))
    .join('\n')
}

/** Imports rows and fails when they are refused. */
export function importRows(ctx: Context, rows: Record<string, string | number>[]): void {
  const result: ImportResult = importHistory(ctx, [historyFile(historyCsv(rows))])
  if (!result.ok) throw new Error(JSON.stringify(result.faults))
}

/** The day on which the engines of the published example went into service here; only ages matter. */
export const VALVE_SEATS_START = '2021-01-01'

/**
 * 41 diesel engines and 48 replacements of valve seats by age in days (Nelson 1995, Technometrics 37:147-157), as rows of
 * the history format: each engine in service at age zero, its replacements, and when it was last seen.
 */
export function valveSeatRows(event: 'failure' | 'work' = 'failure'): Record<string, string>[] {
  const file = new URL('../published/data/valve_seats.csv', import.meta.url)
  const records = readFileSync(file, 'utf8')
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map(line => line.split(','))
  const engines = [...new Set(records.map(([unit]) => unit ?? ''))]
  const blank = { distance: '', by: '', operation: '', component: '' }
  const row = (unit: string, age: number, more: Record<string, string>) => ({
    vehicle: unit,
    family: 'Diesel engine',
    date: addDays(VALVE_SEATS_START, age),
    ...blank,
    ...more,
  })
  const repair =
    event === 'work' ? { event, by: 'unknown', operation: 'Valve seats: replace' } : { event, component: 'Valve seat' }
  return [
    ...engines.map(unit => row(unit, 0, { event: 'in_service' })),
    ...records.map(([unit = '', at = '', kind]) =>
      row(unit, Number(at), kind === 'repair' ? repair : { event: 'seen' }),
    ),
  ]
}
