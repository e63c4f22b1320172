import { argv } from 'node:process'
import { runCommandLine } from './run.ts'

process.exitCode = await runCommandLine(argv.slice(2))
