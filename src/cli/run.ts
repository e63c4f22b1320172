import { Command, CommanderError, InvalidArgumentError, Option } from 'commander'
import { problemFromSqlite } from '../platform/database/sqlite-problems.ts'
import { Problem } from '../platform/problems.ts'
import { Refusal } from '../platform/refusal.ts'
import { addBackup } from './backup.ts'
import { addDemo } from './demo.ts'
import { addExport } from './export.ts'
import { addImport } from './import.ts'
import { addServe } from './serve.ts'
import type { Shell } from './shell.ts'
import { addToken } from './token.ts'
import { addUser } from './user.ts'
import { addVerify } from './verify.ts'

/** What the shell is told: 1 when `verify` finds something or the program fails, 2 when it was asked wrongly or must refuse. */
const FAILED = 1
const REFUSED = 2

const HELP = `
The database is the file named by --db, else by WITNESS_MARK_DB, else witness-mark.db in this folder.
Attachments lie beside it in the folder FILE.files.`

function isGiven(file: string): string {
  if (file.trim() === '') throw new InvalidArgumentError('It names no file.')
  return file
}

function program(shell: Shell): Command {
  const all = new Command('witness-mark')
    .description('Work orders and history of a small vehicle workshop')
    .addOption(
      new Option('--db <file>', 'the database').env('WITNESS_MARK_DB').default('witness-mark.db').argParser(isGiven),
    )
    .addHelpText('after', HELP)
    .showSuggestionAfterError()
    .showHelpAfterError('(witness-mark --help lists the commands)')
    .exitOverride()
    .configureOutput({ writeOut: text => shell.print(text.trimEnd()), writeErr: text => shell.tell(text.trimEnd()) })
  for (const add of [addServe, addDemo, addUser, addToken, addImport, addExport, addBackup, addVerify]) add(all, shell)
  return all
}

/** In words for whoever typed the command; null for a fault of the program, which shows where it happened. */
function wordsFor(error: unknown): string[] | null {
  if (error instanceof Refusal) return [error.message, ...error.lines.map(line => `  ${line}`)]
  const refused = error instanceof Problem ? error : problemFromSqlite(error)
  if (refused === null) return null
  return [`${refused.title}: ${refused.more.detail}`]
}

/** Runs one command and says the exit code. What it prints for other programs is on standard output, the rest on standard error. */
export async function runCommandLine(words: string[], shell: Shell): Promise<number> {
  try {
    await program(shell).parseAsync(words, { from: 'user' })
    return shell.code
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? 0 : REFUSED // commander has said why
    const lines = wordsFor(error)
    if (lines !== null) {
      for (const line of lines) shell.tell(line)
      return REFUSED
    }
    shell.tell(`The program failed. ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
    return FAILED
  }
}
