/**
 * Whether the result of a final check still counts: a step of its job that was opened after it (in milliseconds) means that
 * what was checked has been taken apart again.
 */
export function checkStands(result: { created_at: number }, openings: readonly { created_at: number }[]): boolean {
  return openings.every(opening => opening.created_at <= result.created_at)
}
