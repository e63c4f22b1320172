const LOUDNESS = { not_shown: 0, may: 1, often: 2 } as const

export interface SayingPair {
  operation: string
  component: string
  failure_mode: string | null
  says: keyof typeof LOUDNESS
}

function key({ operation, component, failure_mode }: SayingPair): string {
  return JSON.stringify([operation, component, failure_mode])
}

/** The pairs that say more now than they did before, with what they said then; null where they were not tested. */
export function newPairs<Pair extends SayingPair>(
  now: readonly Pair[],
  before: readonly SayingPair[],
): { pair: Pair; said: 'may' | 'not_shown' | null }[] {
  const then = new Map(before.map(pair => [key(pair), pair.says]))
  return now.flatMap(pair => {
    const said = then.get(key(pair)) ?? null
    const isNew = LOUDNESS[pair.says] > (said === null ? 0 : LOUDNESS[said])
    return isNew && said !== 'often' ? [{ pair, said }] : []
  })
}
