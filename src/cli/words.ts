/** "1 row", "2 rows". */
export function counted(count: number, thing: string): string {
  return `${count} ${thing}${count === 1 ? '' : 's'}`
}

/** An event as it is noted on paper, and as `verify --expect` takes it. */
export function headWords({ seq, hash }: { seq: number; hash: string }): string {
  return `${seq}:${hash}`
}
