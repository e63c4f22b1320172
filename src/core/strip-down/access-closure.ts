/** A strip-down step and the steps that must be open before it. */
export interface AccessStep {
  id: string
  needs: readonly string[]
}

/**
 * The steps named and all that they need, each once, every step after those it needs; otherwise in the order given.
 *
 * @throws RangeError when a step is not among those given, or steps need each other in a circle, which is named.
 */
export function accessClosure<Step extends AccessStep>(steps: readonly Step[], ids: readonly string[]): Step[] {
  const byId = new Map(steps.map(step => [step.id, step]))
  const opened = new Map<string, Step>()
  const path: string[] = []
  const open = (id: string): void => {
    if (opened.has(id)) return
    const step = byId.get(id)
    if (step === undefined) throw new RangeError(`accessClosure requires a known access step, got ${id}`)
    if (path.includes(id)) {
      const circle = [...path.slice(path.indexOf(id)), id].join(' needs ')
      throw new RangeError(`accessClosure requires access steps without a circle: ${circle}`)
    }
    path.push(id)
    for (const need of step.needs) open(need)
    path.pop()
    opened.set(id, step)
  }
  for (const id of ids) open(id)
  return [...opened.values()]
}
