import { type Command, InvalidArgumentError } from 'commander'
import { attachmentFaults, attachmentNames, attachmentsFolder } from '../platform/database/attachments.ts'
import { chainHead } from '../platform/database/events.ts'
import { openReadOnly } from '../platform/database/open.ts'
import { verify } from '../platform/database/verify.ts'
import type { Expected, Fault } from '../platform/database/verify-faults.ts'
import { Refusal } from '../platform/refusal.ts'
import { databaseOf, print } from './database.ts'
import { counted, headWords } from './words.ts'

const MOST_TOLD = 100

function expected(text: string): Expected {
  const [, seq, hash] = /^(\d+):([0-9a-f]{64})$/i.exec(text) ?? []
  if (seq === undefined || hash === undefined) {
    throw new InvalidArgumentError('Write SEQ:HASH: the number of an event and its 64 hexadecimal digits.')
  }
  return { seq: Number(seq), hash: hash.toLowerCase() }
}

function verifyFile(file: string, expect: Expected | undefined): { faults: Fault[]; head: string; attachments: number } {
  const store = openReadOnly(file)
  try {
    // One transaction: the record as it was at one moment, while a server may go on writing.
    return store.raw.transaction(() => ({
      faults: [...verify(store.raw, expect), ...attachmentFaults(attachmentsFolder(file))],
      head: headWords(chainHead(store.raw)),
      attachments: attachmentNames(attachmentsFolder(file)).length,
    }))()
  } finally {
    store.close()
  }
}

function tellFaults(faults: Fault[]): void {
  const link = faults.find(fault => fault.kind === 'chain')
  if (link) print(`First broken link: ${link.says}`)
  for (const { kind, says } of faults.slice(0, MOST_TOLD)) print(`${kind}: ${says}`)
  if (faults.length > MOST_TOLD) print(`… and ${faults.length - MOST_TOLD} more.`)
  print(`${counted(faults.length, 'fault')} found.`)
}

export function addVerify(program: Command): void {
  program
    .command('verify')
    .description('check database, attachments and the chain of the record; exit code 1 when anything is wrong')
    .option('--expect <seq:hash>', 'an event as printed on a record or backup: finds newer ones that were cut off', expected)
    .action(({ expect }: { expect?: Expected }, command: Command) => {
      process.exitCode = 1
      try {
        const { faults, head, attachments } = verifyFile(databaseOf(command), expect)
        if (faults.length > 0) return tellFaults(faults)
        print(`Everything is as it was recorded; ${counted(attachments, 'attachment')}.`)
        print(`Newest event: ${head}`)
        process.exitCode = 0
      } catch (error) {
        if (!(error instanceof Refusal)) throw error
        for (const line of [error.message, ...error.lines]) print(line)
      }
    })
}
