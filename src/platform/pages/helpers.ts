/**
 * The four questions a template may ask. None of them computes: what must be worked out is worked out in the view model.
 * The names are handed to the compiler as the only ones it may know, so a misspelt helper fails at start.
 */
export const HELPERS = {
  /** Are these two the same? For comparing a kind, a state or a place with a word. */
  eq: (left: unknown, right: unknown): boolean => left === right,
  /** Is there a value at all? `{{#if 0}}` is false, so a limit of 0 or an empty text needs this question. */
  given: (value: unknown): boolean => value !== undefined && value !== null,
  /** Is it plain text, or a list of pieces (see words.ts)? */
  plain: (value: unknown): boolean => typeof value === 'string',
  /** Is this box ticked? A form comes back with the text 'true', a record with the boolean. */
  ticked: (value: unknown): boolean => value === true || value === 'true' || value === 'on',
} as const
