import { type Command, InvalidArgumentError } from 'commander'
import { counted } from '../core/words.ts'
import type { Expected, Fault } from '../platform/database/verify-faults.ts'
import { verifyFile } from '../platform/database/verify-file.ts'
import { databaseOf } from './database.ts'
import type { Shell } from './shell.ts'
import { headWords } from './words.ts'

const MOST_TOLD = 100

function expected(text: string): Expected {
  const [, seq, hash] = /^(\d+):([0-9a-f]{64})$/i.exec(text) ?? []
  if (seq === undefined || hash === undefined) {
    throw new InvalidArgumentError('Write SEQ:HASH: the number of an event and its 64 hexadecimal digits.')
  }
  return { seq: Number(seq), hash: hash.toLowerCase() }
}

function tellFaults(shell: Shell, faults: Fault[]): void {
  shell.code = 1
  const link = faults.find(fault => fault.kind === 'chain')
  if (link) shell.print(`First broken link: ${link.says}`)
  for (const { kind, says } of faults.slice(0, MOST_TOLD)) shell.print(`${kind}: ${says}`)
  if (faults.length > MOST_TOLD) shell.print(`… and ${faults.length - MOST_TOLD} more.`)
  shell.print(`${counted(faults.length, 'fault')} found.`)
}

export function addVerify(program: Command, shell: Shell): void {
  program
    .command('verify')
    .description('check database, attachments and the chain of the record; exit code 1 when anything is wrong')
    .option(
      '--expect <seq:hash>',
      'an event as printed on a record or backup: finds newer ones that were cut off',
      expected,
    )
    .action(({ expect }: { expect?: Expected }, command: Command) => {
      const { faults, head, attachments } = verifyFile(databaseOf(command), expect)
      if (head === null) return tellFaults(shell, faults)
      shell.print(`Everything is as it was recorded; ${counted(attachments, 'attachment')}.`)
      shell.print(`Newest event: ${headWords(head)}`)
    })
}
