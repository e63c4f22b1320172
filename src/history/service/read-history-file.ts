import { isUtf8 } from 'node:buffer'
import { CsvError, parse } from 'csv-parse/sync'
import { type Fault, readHeader } from '../rules/columns.ts'
import { type RecordRead, rowReader } from '../rules/read-row.ts'

const LINE_FEED = 10
const CARRIAGE_RETURN = 13
const BOM = Buffer.from([0xef, 0xbb, 0xbf])

/** Counts the physical lines of a file along its records: the parser's own count takes CRLF inside quotes for two. */
function lineCounter(bytes: Buffer): { beginAt(recordEnd: number): number; next(): number } {
  let at = bytes.subarray(0, 3).equals(BOM) ? 3 : 0
  let line = 1
  function skipEmptyLines(): void {
    while (bytes[at] === LINE_FEED || (bytes[at] === CARRIAGE_RETURN && bytes[at + 1] === LINE_FEED)) {
      at += bytes[at] === LINE_FEED ? 1 : 2
      line += 1
    }
  }
  return {
    /** The line on which the record that ends at a byte begins; goes on to behind it. */
    beginAt(recordEnd) {
      skipEmptyLines()
      const begun = line
      for (
        let feed = bytes.indexOf(LINE_FEED, at);
        feed >= 0 && feed < recordEnd;
        feed = bytes.indexOf(LINE_FEED, feed + 1)
      ) {
        line += 1
      }
      at = Math.max(at, recordEnd)
      return begun
    },
    /** The line on which the record that could not be read begins. */
    next() {
      skipEmptyLines()
      return line
    },
  }
}

interface Header {
  cells: string[]
  faults: Fault[]
  readRow: ReturnType<typeof rowReader>
}

/**
 * Reads one history file record by record (RFC 4180; LF or CRLF, with or without byte order mark, empty lines skipped).
 *
 * @param onRecord gets every record that has as many cells as can be told apart, with its own faults, and the bytes read.
 * @returns the faults of the file's form: its header, or a quote after which nothing more can be read.
 */
export function readHistoryFile(
  bytes: Buffer,
  onRecord: (record: RecordRead, line: number, bytesRead: number) => void,
): Fault[] {
  const clean = isUtf8(bytes) && !bytes.includes(0)
  const lines = lineCounter(bytes)
  const file: { header: Header | null } = { header: null }
  try {
    parse(bytes, {
      bom: true,
      record_delimiter: ['\r\n', '\n'],
      relax_column_count: true,
      skip_empty_lines: true,
      on_record: (cells: string[], info) => {
        const line = lines.beginAt(info.bytes)
        if (file.header === null) {
          const { places, faults } = readHeader(cells, line)
          file.header = { cells, faults, readRow: rowReader(places, cells.length, clean) }
        } else if (file.header.faults.length === 0) onRecord(file.header.readRow(cells, line), line, info.bytes)
        return null
      },
    })
  } catch (error) {
    if (!(error instanceof CsvError)) throw error
    return [...(file.header?.faults ?? []), quoteFault(error, lines.next(), file.header?.cells ?? [])]
  }
  return file.header?.faults ?? [{ line: 1, column: 'vehicle', reason: 'is missing: the file has no header row' }]
}

function quoteFault(error: CsvError, line: number, header: readonly string[]): Fault {
  const place = typeof error.index === 'number' ? error.index : 0
  const what =
    error.code === 'CSV_QUOTE_NOT_CLOSED'
      ? 'opens a quote that is never closed'
      : 'has a quote in the wrong place (inside a quoted cell a quote is written twice)'
  return {
    line,
    column: header[place]?.trim() ?? `number ${place + 1}`,
    reason: `${what}; nothing behind it could be read`,
  }
}
