/** An event as it is noted on paper, and as `verify --expect` takes it. */
export function headWords({ seq, hash }: { seq: number; hash: string }): string {
  return `${seq}:${hash}`
}
