import type { Command } from 'commander'
import { createToken } from '../accounts/index.ts'
import type { Role } from '../core/vocabulary.ts'
import { withDatabase } from './database.ts'
import { nameOf } from './names.ts'
import type { Shell } from './shell.ts'
import { roleOption } from './user.ts'

export function addToken(program: Command, shell: Shell): void {
  const token = program.command('token').description('tokens of the API')

  token
    .command('create <name>')
    .description('make a token, a person of its own; prints it once, and nothing else')
    .addOption(roleOption())
    .action(async (name: string, { role }: { role: Role }, command: Command) => {
      const made = await withDatabase(command, ctx => createToken(ctx, { name: nameOf(name), role }))
      shell.print(made.token)
      if (made.person.name !== nameOf(name))
        shell.tell(`The name is taken: what it writes is signed ${made.person.name}.`)
    })
}
