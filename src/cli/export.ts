import type { Command } from 'commander'
import { exportAll } from '../exchange/index.ts'
import { databaseOf, print } from './database.ts'
import { counted, headWords } from './words.ts'

export function addExport(program: Command): void {
  program
    .command('export <folder>')
    .description('write everything to a new folder, as CSV and JSON, with the attachments')
    .action((folder: string, _options: object, command: Command) => {
      const manifest = exportAll(databaseOf(command), folder)
      const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0)
      print(`Exported ${counted(rows, 'row')} and ${counted(manifest.attachments.length, 'attachment')} to ${folder}.`)
      print(`Newest event: ${headWords(manifest.chain_head)}`)
    })
}
