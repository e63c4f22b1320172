/** Names of form controls: `lines[0][quantity]` is the field /lines/0/quantity, whose control has the id `lines-0-quantity`. */

/** What a form or a query sent: each name once, with all its values. Re-shown word for word when something was wrong. */
export type Typed = Record<string, string | string[]>

const NAME = /^([^[\]]+)((?:\[[^[\]]*\])*)$/

/** null for what is no such name. `lines[]` is the list itself. */
export function pathOfName(name: string): string[] | null {
  const [, first, rest = ''] = NAME.exec(name) ?? []
  if (first === undefined) return null
  const parts = [...rest.matchAll(/\[([^[\]]*)\]/g)].map(match => match[1] ?? '')
  if (parts.at(-1) === '') parts.pop()
  return [first, ...parts]
}

export function nameOfPath(path: readonly (string | number)[]): string {
  const [first = '', ...rest] = path
  return String(first) + rest.map(part => `[${part}]`).join('')
}

/** The id of the first control of a field: what an error summary links to. */
export function idOfPath(path: readonly (string | number)[]): string {
  return path.join('-').replaceAll('_', '-')
}
