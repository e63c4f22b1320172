import { type Command, InvalidArgumentError } from 'commander'

const USUAL_PORT = 8080
const LARGEST_PORT = 65_535

function port(text: string): number {
  const number = Number(text)
  if (!/^\d+$/.test(text) || number > LARGEST_PORT) {
    throw new InvalidArgumentError(`A port is a whole number from 0 (any free one) to ${LARGEST_PORT}.`)
  }
  return number
}

export function addPort(command: Command): Command {
  return command.option('--port <number>', 'the port to listen on; 0 takes a free one', port, USUAL_PORT)
}
