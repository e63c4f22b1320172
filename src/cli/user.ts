import { type Command, Option } from 'commander'
import { addPerson, resetPassword } from '../accounts/index.ts'
import { ROLES, type Role } from '../core/vocabulary.ts'
import { withDatabase } from './database.ts'
import { nameOf } from './names.ts'
import type { Shell } from './shell.ts'

export const roleOption = () => new Option('--role <role>', 'what they may do').choices(ROLES).makeOptionMandatory()

export function addUser(program: Command, shell: Shell): void {
  const user = program.command('user').description('people who log in')

  user
    .command('add <name>')
    .description('add somebody; prints a one-time password')
    .addOption(roleOption())
    .action(async (name: string, { role }: { role: Role }, command: Command) => {
      const { password } = await withDatabase(command, ctx => addPerson(ctx, { name: nameOf(name), role }))
      shell.tell(`One-time password for ${name}, to be changed at the first login:`)
      shell.print(password)
    })

  user
    .command('reset <name>')
    .description('give somebody who lost theirs a new one-time password, and end their sessions')
    .action(async (name: string, _options: object, command: Command) => {
      const { password } = await withDatabase(command, ctx => resetPassword(ctx, name))
      shell.tell(`One-time password for ${name}, to be changed at the next login:`)
      shell.print(password)
    })
}
