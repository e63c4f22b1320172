/** A path of this program, never another site: where to go after signing in or after a form. Anything else is null. */
export function localPath(asked: unknown): string | null {
  return typeof asked === 'string' && /^\/(?![/\\])[^\\\p{Cc}]*$/u.test(asked) ? asked : null
}
