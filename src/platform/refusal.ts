/**
 * A command or a start that is refused because of something which the person at the machine can put right. The command
 * line prints the message (and the lines under it) as it is, without a stack, and exits with 2.
 */
export class Refusal extends Error {
  readonly lines: string[]

  constructor(message: string, lines: string[] = []) {
    super(message)
    this.name = 'Refusal'
    this.lines = lines
  }
}
