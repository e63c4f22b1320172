import { readFileSync } from 'node:fs'

/** A published value: what goes in, what must come out, how exactly, whose book. */
export interface PublishedRow<Inputs, Expected> {
  id: string
  inputs: Inputs
  expected: Expected
  source: string
  basis: string
}

/** The rows of one file of tests/published/fastening. */
export function publishedRows<Inputs, Expected>(file: string): PublishedRow<Inputs, Expected>[] {
  return JSON.parse(readFileSync(new URL(`../../published/fastening/${file}.json`, import.meta.url), 'utf8'))
}

/** One row by its id. */
export function publishedRow<Inputs, Expected>(file: string, id: string): PublishedRow<Inputs, Expected> {
  const row = publishedRows<Inputs, Expected>(file).find(candidate => candidate.id === id)
  if (row === undefined) throw new Error(`${file}.json has no row ${id}`)
  return row
}

/** The ids of a file, for the test that says that none is left unchecked. */
export const publishedIds = (file: string) => publishedRows(file).map(row => row.id)

/** A number to so many significant figures, as printed tables round. */
export const toFigures = (value: number, figures: number) => Number(value.toPrecision(figures))
