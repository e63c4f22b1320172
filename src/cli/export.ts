import type { Command } from 'commander'
import { counted } from '../core/words.ts'
import { exportAll } from '../exchange/index.ts'
import { databaseOf } from './database.ts'
import type { Shell } from './shell.ts'
import { headWords } from './words.ts'

export function addExport(program: Command, shell: Shell): void {
  program
    .command('export <folder>')
    .description('write everything to a new folder, as CSV and JSON, with the attachments')
    .action((folder: string, _options: object, command: Command) => {
      const manifest = exportAll(databaseOf(command), folder)
      const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0)
      shell.print(
        `Exported ${counted(rows, 'row')} and ${counted(manifest.attachments.length, 'attachment')} to ${folder}.`,
      )
      shell.print(`Newest event: ${headWords(manifest.chain_head)}`)
    })
}
