import { createHash } from 'node:crypto'
import fs from 'node:fs'
import { StringDecoder } from 'node:string_decoder'
import { stringify } from 'csv-stringify/sync'
import { syncToDisk } from '../platform/database/files.ts'
import type { Value } from './tables.ts'

const ROWS_AT_A_TIME = 1000

/** CSV after RFC 4180. Text is quoted, numbers are not, NULL is an empty field: nobody has to guess what `007` is. */
export function* csvOf(columns: string[], rows: Iterable<Value[]>): Generator<string> {
  yield `${columns.join(',')}\r\n`
  let batch: Value[][] = []
  const format = () => stringify(batch, { record_delimiter: 'windows', quoted_string: true })
  for (const row of rows) {
    batch.push(row)
    if (batch.length === ROWS_AT_A_TIME) {
      yield format()
      batch = []
    }
  }
  if (batch.length > 0) yield format()
}

/** A JSON array of objects, one row to a line, so that it can be read line by line however long it is. */
export function* jsonOf(columns: string[], rows: Iterable<Value[]>): Generator<string> {
  let before = '[\n'
  for (const row of rows) {
    yield before + JSON.stringify(Object.fromEntries(columns.map((column, index) => [column, row[index] ?? null])))
    before = ',\n'
  }
  yield before === '[\n' ? '[\n]\n' : '\n]\n'
}

/** Writes a file to the disk for good and says what its SHA-256 is. */
export function writeHashed(file: string, chunks: Iterable<string>): string {
  const hash = createHash('sha256')
  const handle = fs.openSync(file, 'wx')
  try {
    for (const chunk of chunks) {
      hash.update(chunk)
      fs.writeSync(handle, chunk)
    }
  } finally {
    fs.closeSync(handle)
  }
  syncToDisk(file)
  return hash.digest('hex')
}

function* linesOf(file: string): Generator<string> {
  const decoder = new StringDecoder('utf8')
  const chunk = Buffer.allocUnsafe(1 << 20)
  const handle = fs.openSync(file, 'r')
  try {
    let rest = ''
    for (let read = fs.readSync(handle, chunk); read > 0; read = fs.readSync(handle, chunk)) {
      const lines = (rest + decoder.write(chunk.subarray(0, read))).split('\n')
      rest = lines.pop() ?? ''
      yield* lines
    }
    if (rest !== '') yield rest
  } finally {
    fs.closeSync(handle)
  }
}

export interface JsonLine {
  line: number
  /** Undefined when the line is not a row. */
  row: Record<string, unknown> | undefined
}

function parsedRow(text: string): Record<string, unknown> | undefined {
  try {
    const row: unknown = JSON.parse(text.replace(/,$/, ''))
    return typeof row === 'object' && row !== null && !Array.isArray(row) ? (row as Record<string, unknown>) : undefined
  } catch {
    return undefined // the caller reports the line
  }
}

/** The rows of a file that `jsonOf` wrote, with the lines on which they stand. */
export function* readJson(file: string): Generator<JsonLine> {
  let line = 0
  for (const text of linesOf(file)) {
    line += 1
    if (text === '[' || text === ']') continue
    yield { line, row: parsedRow(text) }
  }
}
