/** Where a command prints, and what it tells the shell: the real one, or a test's. */
export interface Shell {
  /** What was asked for, for a person or a program that reads the output. */
  print(line: string): void
  /** Words for the person at the terminal. */
  tell(line: string): void
  /** Whether a person watches, so that progress is worth showing. */
  isWatched: boolean
  /** The exit code, set by a command that ends well but with something to report. */
  code: number
}

export function systemShell(): Shell {
  return {
    print: line => process.stdout.write(`${line}\n`),
    tell: line => process.stderr.write(`${line}\n`),
    isWatched: process.stderr.isTTY === true,
    code: 0,
  }
}
