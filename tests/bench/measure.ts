/** One result as `--json` prints it. */
export interface Measure {
  name: string
  /** What the program does, and what the bare floor does that stands beside it in the same run. */
  value: number
  floor: number
  ratio: number
  goal: number
  holds: boolean
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((one, other) => one - other)
  const middle = sorted.length >> 1
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2
}

/** Runs the two by turns, so that a machine that is busy for a while slows both, and returns the median of each. */
export async function byTurns(
  rounds: number,
  value: (round: number) => number | Promise<number>,
  floor: (round: number) => number | Promise<number>,
): Promise<{ value: number; floor: number }> {
  const values: number[] = []
  const floors: number[] = []
  for (let round = 0; round < rounds; round += 1) {
    values.push(await value(round))
    floors.push(await floor(round))
  }
  return { value: median(values), floor: median(floors) }
}

/** Rates: the program's must be at least `goal` of the floor's. */
export function rates(name: string, { value, floor }: { value: number; floor: number }, goal: number): Measure {
  const ratio = value / floor
  return { name, value: rounded(value), floor: rounded(floor), ratio: rounded(ratio), goal, holds: ratio >= goal }
}

/** Times in seconds: the program's may be `goal` times the floor's and `spare` seconds more. */
export function times(
  name: string,
  { value, floor }: { value: number; floor: number },
  goal: number,
  spare: number,
): Measure {
  const holds = value <= goal * floor + spare
  return { name, value: rounded(value), floor: rounded(floor), ratio: rounded(value / floor), goal, holds }
}

/** What may be at most `goal` times the floor. */
export function atMost(name: string, { value, floor }: { value: number; floor: number }, goal: number): Measure {
  const ratio = value / floor
  const figures = { value: rounded(value), floor: rounded(floor), ratio: rounded(ratio), goal: rounded(goal) }
  return { name, ...figures, holds: ratio <= goal }
}

/** The wait that one of a hundred is longer than. */
export function slowestOfHundred(waits: readonly number[]): number {
  const sorted = [...waits].sort((one, other) => one - other)
  return sorted[Math.ceil(sorted.length * 0.99) - 1]!
}

/** Four figures say more than enough of a time. */
function rounded(value: number): number {
  return Number(value.toPrecision(4))
}

/** Seconds that work takes. */
export function secondsOf(work: () => void): number {
  const started = performance.now()
  work()
  return (performance.now() - started) / 1000
}
