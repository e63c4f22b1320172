/** What `verify` can find. */
export interface Fault {
  /**
   * `structure` SQLite's own checks; `schema` a table, trigger or index that is not the program's; `chain` a broken link;
   * `tail` the newest events are missing; `edited`, `unrecorded`, `missing` a row that is not as its event recorded it;
   * `attachment` a file that is not what its name says, or that a row names and is not there.
   */
  kind: 'structure' | 'schema' | 'chain' | 'tail' | 'edited' | 'unrecorded' | 'missing' | 'attachment'
  says: string
}

/** An event as printed on paper or on a backup: its number, and its hash in 64 hexadecimal digits. */
export interface Expected {
  seq: number
  hash: string
}
