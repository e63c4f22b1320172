import { existsSync } from 'node:fs'
import cliProgress from 'cli-progress'
import type { Command } from 'commander'
import { counted } from '../core/words.ts'
import { importAll } from '../exchange/index.ts'
import { type FaultOfFile, type ImportCounts, type ImportProgress, importHistory } from '../history/index.ts'
import type { Context } from '../platform/context.ts'
import { Refusal } from '../platform/refusal.ts'
import { databaseOf, withDatabase } from './database.ts'
import type { Shell } from './shell.ts'

/** `FILE: line N, column NAME: reason`, without what is not known. */
function faultLine({ file, line, column, reason }: FaultOfFile): string {
  const where = [line === null ? [] : `line ${line}`, column === null ? [] : `column ${column}`].flat()
  return [file, where.join(', '), reason].filter(part => part !== '').join(': ')
}

/** A bar on a terminal; nothing where a program reads along. */
function progressBar(isWatched: boolean): { show: (progress: ImportProgress) => void; end: () => void } {
  if (!isWatched) return { show: () => {}, end: () => {} }
  const bar = new cliProgress.SingleBar({
    format: '{phase} {bar} {percentage} %',
    stream: process.stderr,
    clearOnComplete: true,
  })
  bar.start(1, 0, { phase: 'reading' })
  return {
    show({ phase, done, total }) {
      bar.setTotal(total)
      bar.update(done, { phase: phase.padEnd('reading'.length) })
    },
    end: () => bar.stop(),
  }
}

function summary({ files, rows, events, vehicles, new_vehicles }: ImportCounts): string {
  const kinds = Object.entries(events).map(([event, count]) => `${event} ${count}`)
  const known = `${counted(vehicles, 'vehicle')}, ${new_vehicles} of them new`
  return `${counted(files, 'file')}, ${counted(rows, 'row')} (${kinds.join(', ')}), ${known}`
}

/** As `withDatabase`; a name typed wrong makes an empty database beside the one that was meant, and that is said. */
function withDatabaseTold<T>(command: Command, shell: Shell, work: (ctx: Context) => T | Promise<T>): Promise<T> {
  const file = databaseOf(command)
  const isNew = file !== ':memory:' && !existsSync(file)
  return withDatabase(command, ctx => {
    if (isNew) shell.tell(`There was no database ${file}: made a new database ${file}.`)
    return work(ctx)
  })
}

export function addImport(program: Command, shell: Shell): void {
  const all = program.command('import').description('take histories or a whole export in')

  all
    .command('history <file...>')
    .description('take histories of vehicles in, all of them or nothing')
    .option('--dry-run', 'check everything and write nothing')
    .action(async (files: string[], { dryRun = false }: { dryRun?: boolean }, command: Command) => {
      const result = await withDatabaseTold(command, shell, ctx => {
        const bar = progressBar(shell.isWatched)
        try {
          return importHistory(
            ctx,
            files.map(path => ({ name: path, path })),
            { dryRun, onProgress: bar.show },
          )
        } finally {
          bar.end()
        }
      })
      if (!result.ok) {
        for (const fault of result.faults) shell.tell(faultLine(fault))
        throw new Refusal(`Nothing was imported: ${counted(result.faults.length, 'fault')}.`)
      }
      shell.print(`${dryRun ? 'Would import' : 'Imported'} ${summary(result.counts)}.`)
    })

  all
    .command('all <folder>')
    .description('take an export into an empty database')
    .action(async (folder: string, _options: object, command: Command) => {
      const manifest = await withDatabaseTold(command, shell, ctx => importAll(ctx.store, databaseOf(command), folder))
      const rows = manifest.tables.reduce((sum, table) => sum + table.rows, 0)
      shell.print(`Imported ${counted(rows, 'row')} and ${counted(manifest.attachments.length, 'attachment')}.`)
    })
}
