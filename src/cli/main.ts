import { argv } from 'node:process'
import { runCommandLine } from './run.ts'
import { systemShell } from './shell.ts'

// A reader that has seen enough (`verify | head -1`) closes the pipe; that is no fault.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error
})

process.exitCode = await runCommandLine(argv.slice(2), systemShell())
