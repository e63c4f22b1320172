import { createHash } from 'node:crypto'
import { readFileSync } from 'node:fs'
import { settingsOf } from '../../accounts/index.ts'
import { ensureComponent, ensureFailureMode, ensureOperation, ensureSymptom } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { HISTORY_EVENTS, type HistoryEventKind } from '../../core/vocabulary.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { newRecord } from '../../platform/records.ts'
import { ensureFamily, ensureImportedVehicle } from '../../vehicles/index.ts'
import { deferForeignKeys, findImport, historyEventWriter, importedVehicles, insertImport } from '../queries.ts'
import { checkTogether, type FaultOfFile, type Together } from '../rules/check-together.ts'
import type { HistoryRow } from '../rules/read-row.ts'
import { readHistoryFile } from './read-history-file.ts'

export type { FaultOfFile }

export interface HistoryFile {
  /** As faults and the record of the import call it. */
  name: string
  path: string
}

/** How far an import is: `done` of `total` bytes read, rows written, or files sealed into the record chain. */
export interface ImportProgress {
  phase: 'reading' | 'writing' | 'sealing'
  done: number
  total: number
}

export interface ImportCounts {
  files: number
  rows: number
  events: Record<HistoryEventKind, number>
  vehicles: number
  new_vehicles: number
}

export type ImportResult = { ok: true; counts: ImportCounts } | { ok: false; faults: FaultOfFile[] }

interface ReadFile {
  name: string
  sha256: string
  rows: HistoryRow[]
}

const ROWS_BETWEEN_REPORTS = 2000

/**
 * Imports history files, all or nothing: every fault of every file is reported, or everything is written in one
 * transaction with one event a file. A file whose bytes were imported before is refused. Vehicles that an earlier import
 * named go on under that name; other vehicles and catalogue entries that a row names are created.
 *
 * @param options.dryRun checks everything and writes nothing.
 */
export function importHistory(
  ctx: Context,
  files: readonly HistoryFile[],
  options: { dryRun?: boolean; onProgress?: (progress: ImportProgress) => void } = {},
): ImportResult {
  authorise(ctx)
  const report = options.onProgress ?? (() => {})
  const known = new Map(importedVehicles(ctx.read).map(vehicle => [vehicle.imported_as ?? '', vehicle]))
  const together = checkTogether(new Map([...known].map(([name, { family }]) => [name, family])))
  const read = readFiles(ctx, files, together, report)
  const faults = [...read.faults, ...together.faults()]
  if (faults.length > 0) return { ok: false, faults: inOrder(faults, files) }
  if (options.dryRun !== true) write(ctx, tx => writeAll(ctx, tx, read.files, together, report))
  const rows = read.files.flatMap(file => file.rows)
  const events = Object.fromEntries(HISTORY_EVENTS.map(event => [event, 0])) as Record<HistoryEventKind, number>
  for (const row of rows) events[row.event] += 1
  const newVehicles = [...together.vehicles.keys()].filter(name => !known.has(name)).length
  const counts = {
    files: files.length,
    rows: rows.length,
    events,
    vehicles: together.vehicles.size,
    new_vehicles: newVehicles,
  }
  return { ok: true, counts }
}

function readFiles(
  ctx: Context,
  files: readonly HistoryFile[],
  together: Together,
  report: (progress: ImportProgress) => void,
): { files: ReadFile[]; faults: FaultOfFile[] } {
  const read: ReadFile[] = []
  const faults: FaultOfFile[] = []
  for (const { name, path } of files) {
    const whole = (reason: string) => faults.push({ file: name, line: null, column: null, reason })
    let bytes: Buffer
    try {
      bytes = readFileSync(path)
    } catch (error) {
      whole(`cannot be read: ${error instanceof Error ? error.message : String(error)}`)
      continue
    }
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    const before = findImport(ctx.read, sha256)
    const twin = read.find(file => file.sha256 === sha256)
    if (before !== undefined) {
      const day = localDateOf(before.created_at, settingsOf(ctx).time_zone)
      whole(`was imported already, as ${before.file_name} on ${longDay(day)}: the bytes are the same`)
    } else if (twin !== undefined) whole(`has the same bytes as ${twin.name}, which is given too`)
    else {
      const rows: HistoryRow[] = []
      const own = intern()
      const formFaults = readHistoryFile(bytes, (record, line, done) => {
        together.add(name, line, record)
        for (const fault of record.faults) faults.push({ file: name, ...fault })
        if (record.row !== null) rows.push(own(record.row))
        if (rows.length % ROWS_BETWEEN_REPORTS === 0) report({ phase: 'reading', done, total: bytes.length })
      })
      faults.push(...formFaults.map(fault => ({ file: name, ...fault })))
      read.push({ name, sha256, rows })
    }
  }
  return { files: read, faults }
}

/** Keeps one copy of each name: a history says the same few names in every row. */
function intern(): (row: HistoryRow) => HistoryRow {
  const kept = new Map<string, string>()
  const one = <T extends string | null>(text: T): T => {
    if (text === null) return text
    const before = kept.get(text)
    if (before === undefined) kept.set(text, text)
    return (before ?? text) as T
  }
  return row => {
    row.vehicle = one(row.vehicle)
    row.family = one(row.family)
    row.operation = one(row.operation)
    row.component = one(row.component)
    row.failure_mode = one(row.failure_mode)
    row.symptom = one(row.symptom)
    return row
  }
}

function writeAll(
  ctx: Context,
  tx: Tx,
  files: readonly ReadFile[],
  { vehicles }: Together,
  report: (progress: ImportProgress) => void,
): void {
  const idOf = {
    family: remembered(name => ensureFamily(ctx, tx, name)),
    operation: remembered(name => ensureOperation(ctx, tx, name)),
    component: remembered(name => ensureComponent(ctx, tx, name)),
    failure_mode: remembered(name => ensureFailureMode(ctx, tx, name)),
    symptom: remembered(name => ensureSymptom(ctx, tx, name)),
  }
  const vehicleIds = new Map<string, string>()
  for (const [imported_as, { family, first_registered_on }] of vehicles) {
    const family_id = idOf.family(family)!
    vehicleIds.set(imported_as, ensureImportedVehicle(ctx, tx, { imported_as, family_id, first_registered_on }))
  }
  const imports = files.map(file => ({
    ...newRecord(ctx),
    file_name: file.name,
    sha256: file.sha256,
    row_count: file.rows.length,
  }))
  const comebackIds = idsOfNamed(files, imports)
  deferForeignKeys(ctx.store)
  const insert = historyEventWriter(ctx.store, tx)
  const total = files.reduce((sum, file) => sum + file.rows.length, 0)
  let done = 0
  imports.forEach((imported, place) => {
    insertImport(tx, imported)
    for (const row of files[place]!.rows) {
      // every member by name: a spread would make each row a slow object, and there are a hundred thousand of them
      insert({
        id: rowId(imported.id, row.line),
        import_id: imported.id,
        line: row.line,
        row_name: row.name,
        vehicle_id: vehicleIds.get(row.vehicle)!,
        date: row.date,
        distance_km: row.distance_km,
        event: row.event,
        by: row.by,
        operation_id: idOf.operation(row.operation),
        component_id: idOf.component(row.component),
        failure_mode_id: idOf.failure_mode(row.failure_mode),
        symptom_id: idOf.symptom(row.symptom),
        hours: row.hours,
        labour_minor: row.labour_minor,
        parts_minor: row.parts_minor,
        warranty_days: row.warranty_days,
        warranty_km: row.warranty_km,
        first_registered_on: row.first_registered_on,
        comeback_of_id: row.comeback_of === null ? null : comebackIds.get(row.comeback_of)!,
        note: row.note,
      })
      done += 1
      if (done % ROWS_BETWEEN_REPORTS === 0) report({ phase: 'writing', done, total })
    }
    report({ phase: 'sealing', done: place, total: files.length })
    const set = { table: 'history_events', column: 'import_id', owner: imported.id }
    recordEvent(ctx, tx, { action: 'history.imported', table: 'history_imports', id: imported.id, set })
  })
  report({ phase: 'sealing', done: files.length, total: files.length })
}

/** The id of a row: its import and the line on which it began. So the id of a row that comes later is known, too. */
function rowId(importId: string, line: number): string {
  return `${importId}-${String(line).padStart(8, '0')}`
}

/** The ids of the rows that comebacks name. */
function idsOfNamed(files: readonly ReadFile[], imports: readonly { id: string }[]): Map<string, string> {
  const wanted = new Set(files.flatMap(file => file.rows.flatMap(row => row.comeback_of ?? [])))
  const ids = new Map<string, string>()
  files.forEach((file, place) => {
    for (const { name, line } of file.rows) {
      if (name !== null && wanted.has(name)) ids.set(name, rowId(imports[place]!.id, line))
    }
  })
  return ids
}

/** Asks once for each name. */
function remembered(ask: (name: string) => string): (name: string | null) => string | null {
  const known = new Map<string, string>()
  return name => {
    if (name === null) return null
    const id = known.get(name) ?? ask(name)
    known.set(name, id)
    return id
  }
}

/** By file as given, then by line. */
function inOrder(faults: FaultOfFile[], files: readonly HistoryFile[]): FaultOfFile[] {
  const place = new Map(files.map(({ name }, at) => [name, at]))
  return faults.sort((a, b) => (place.get(a.file) ?? 0) - (place.get(b.file) ?? 0) || (a.line ?? 0) - (b.line ?? 0))
}
