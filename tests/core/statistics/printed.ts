import { readFileSync } from 'node:fs'
import { expect } from 'vitest'

/** Half a unit in the last printed digit, and what a decimal fraction loses in a double. */
function halfUnit(decimals: number): number {
  return 0.5 * 10 ** -decimals + 1e-12
}

/** Expects a value to round to the one printed with so many decimals. */
export function expectPrinted(value: number | null, printed: number, decimals: number, what = ''): void {
  expect(value, what).not.toBeNull()
  expect(Math.abs(value! - printed), `${what} ${value} is printed as ${printed}`).toBeLessThanOrEqual(
    halfUnit(decimals),
  )
}

/** Expects two numbers, or two nulls, to be the same but for rounding. */
export function expectSame(value: number | null, wanted: number | null, what = '', relative = 1e-9): void {
  if (value === null || wanted === null) {
    expect(value, what).toBe(wanted)
    return
  }
  const scale = Math.max(1e-3, Math.abs(wanted))
  expect(Math.abs(value - wanted), `${what}: ${value} and ${wanted}`).toBeLessThanOrEqual(relative * scale)
}

export interface PublishedRow {
  unit_id: string
  at: number
  kind: string
}

/** Rows of a published data file: a unit, an age, and what happened at it. */
export function publishedRows(file: string): PublishedRow[] {
  const text = readFileSync(new URL(`../../published/data/${file}`, import.meta.url), 'utf8')
  return text
    .trim()
    .split(/\r?\n/)
    .slice(1)
    .map(line => {
      const [unit, at, kind] = line.split(',')
      return { unit_id: unit!, at: Number(at), kind: kind! }
    })
}
