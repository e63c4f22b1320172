/** One partial with everything it can look like; `view` is what a page would pass to it. */
export interface Pattern {
  partial: string
  examples: { name: string; view: object | string }[]
}
