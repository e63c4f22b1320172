/** From rows to the wire and back. Rows keep instants as milliseconds and absence as null; the wire ISO text and no member. */

/** Milliseconds since 1970 UTC as the wire writes them. */
export function toInstant(ms: number): string {
  return new Date(ms).toISOString()
}

/** Milliseconds of an Instant that a contract has already checked. Throws RangeError on anything else. */
export function fromInstant(text: string): number {
  const ms = Date.parse(text)
  if (Number.isNaN(ms)) throw new RangeError(`fromInstant requires an ISO 8601 instant, not ${text}`)
  return ms
}

type NullableKeys<T> = { [K in keyof T]-?: null extends T[K] ? K : never }[keyof T]
export type WithoutNulls<T> = Omit<T, NullableKeys<T>> & { [K in NullableKeys<T>]?: Exclude<T[K], null> }

/** A copy without the members that are null or undefined: what is absent in a row is absent on the wire. */
export function withoutNulls<T extends object>(row: T): WithoutNulls<T> {
  return Object.fromEntries(
    Object.entries(row).filter(([, value]) => value !== null && value !== undefined),
  ) as WithoutNulls<T>
}
