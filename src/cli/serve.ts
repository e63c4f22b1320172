import type { Command } from 'commander'
import { openMigrated } from '../platform/database/migrate.ts'
import { databaseOf, depsFor } from './database.ts'
import { addPort } from './port.ts'
import type { Shell } from './shell.ts'

interface Options {
  port: number
  host: string
}

export function addServe(program: Command, shell: Shell): void {
  addPort(program.command('serve'))
    .description('migrate the database, then serve pages and API')
    .option('--host <address>', 'the address to listen on; 0.0.0.0 lets the whole network in', '127.0.0.1')
    .action(async ({ port, host }: Options, command: Command) => {
      const { listen, untilStopped } = await import('./listen.ts') // the web is loaded only to serve
      const store = await openMigrated(databaseOf(command))
      const server = await listen(depsFor(store), { port, host })
      shell.print(server.url)
      if (server.setupUrl !== null)
        shell.tell(`Nobody can log in yet. This link works once and makes the owner: ${server.setupUrl}`)
      await untilStopped(server)
    })
}
