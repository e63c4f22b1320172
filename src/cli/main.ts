import { argv } from 'node:process'
import { runCommandLine } from './run.ts'
import { systemShell } from './shell.ts'

process.exitCode = await runCommandLine(argv.slice(2), systemShell())
