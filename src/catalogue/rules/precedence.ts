interface Precedence {
  id: string
  needs: readonly string[]
}

/** The steps and all that they need, each once, those that are needed before those that need them. Unknown ids are left out. */
export function withAllNeeded<T extends Precedence>(ids: readonly string[], all: readonly T[]): T[] {
  const byId = new Map(all.map(step => [step.id, step]))
  const result = new Map<string, T>()
  const seen = new Set<string>()
  function visit(id: string): void {
    const step = byId.get(id)
    if (step === undefined || seen.has(id)) return
    seen.add(id)
    step.needs.forEach(visit)
    result.set(id, step)
  }
  ids.forEach(visit)
  return [...result.values()]
}

/** Whether something would need itself in the end, if `id` needed these. `all` holds what every other one needs. */
export function needsItself(id: string, needs: readonly string[], all: readonly Precedence[]): boolean {
  return withAllNeeded(needs, [...all.filter(each => each.id !== id), { id, needs }]).some(each => each.id === id)
}
