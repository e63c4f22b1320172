/** One result as `--json` prints it: whether a value lies between the bounds that it should keep. */
export interface Finding {
  name: string
  value: number
  low: number
  high: number
  holds: boolean
}

export function share(name: string, value: number, low: number, high: number): Finding {
  return { name, value: Number(value.toPrecision(4)), low, high, holds: value >= low && value <= high }
}
