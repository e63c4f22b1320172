import type { Command } from 'commander'
import { backup, restore } from '../backup/index.ts'
import { counted } from '../core/words.ts'
import { systemClock } from '../platform/clock.ts'
import { databaseOf } from './database.ts'
import type { Shell } from './shell.ts'
import { headWords } from './words.ts'

export function addBackup(program: Command, shell: Shell): void {
  program
    .command('backup <file>')
    .description('copy the database while it is in use, with the attachments, and check the copy')
    .action(async (file: string, _options: object, command: Command) => {
      const done = await backup(databaseOf(command), file)
      shell.print(`Backed up ${counted(done.rows, 'row')} and ${counted(done.attachments, 'attachment')} to ${file}.`)
      shell.print(`Newest event: ${headWords(done.head)}`)
    })

  program
    .command('restore <file>')
    .description('put a backup in the place of the database, which is kept beside it; stop the server first')
    .action(async (file: string, _options: object, command: Command) => {
      const done = await restore(file, databaseOf(command), systemClock)
      shell.print(`Restored ${counted(done.rows, 'row')} and ${counted(done.attachments, 'attachment')} from ${file}.`)
      shell.print(`Newest event: ${headWords(done.head)}`)
      if (done.before !== null) shell.print(`The database that was there before is ${done.before}.`)
    })
}
