import type { AccessStep } from './access-closure.ts'

/** The first circle in which things need each other, each once, in the order of needing; null without one. Unknown ids end a way. */
export function circleOf(all: readonly AccessStep[]): string[] | null {
  const byId = new Map(all.map(each => [each.id, each]))
  const free = new Set<string>()
  const path: string[] = []
  const look = (id: string): string[] | null => {
    if (free.has(id)) return null
    if (path.includes(id)) return path.slice(path.indexOf(id))
    path.push(id)
    for (const need of byId.get(id)?.needs ?? []) {
      const circle = look(need)
      if (circle !== null) return circle
    }
    path.pop()
    free.add(id)
    return null
  }
  for (const { id } of all) {
    const circle = look(id)
    if (circle !== null) return circle
  }
  return null
}
