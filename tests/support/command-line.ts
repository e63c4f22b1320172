import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import path from 'node:path'
import { createInterface } from 'node:readline'
import { onTestFinished } from 'vitest'
import { runCommandLine } from '../../src/cli/run.ts'
import { packageRoot } from '../../src/platform/paths.ts'

const PROGRAM = path.join(packageRoot, 'src/cli/witness-mark.js')

export interface Ran {
  code: number | null
  stdout: string
  stderr: string
}

function start(
  words: string[],
  folder: string,
  env: Record<string, string>,
): { child: ChildProcess; ran: Promise<Ran>; printed: () => string } {
  const { WITNESS_MARK_DB: _, ...inherited } = process.env
  const child = spawn(process.execPath, [PROGRAM, ...words], {
    cwd: folder,
    env: { ...inherited, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let stdout = ''
  let stderr = ''
  child.stdout?.setEncoding('utf8').on('data', (text: string) => {
    stdout += text
  })
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    stderr += text
  })
  const ran = once(child, 'close').then(([code]): Ran => ({ code: code as number | null, stdout, stderr }))
  return { child, ran, printed: () => stdout }
}

/** Runs a command inside this process, as `witness-mark …` does: many times faster. */
export async function command(...words: string[]): Promise<Ran> {
  const printed: string[] = []
  const told: string[] = []
  const text = (lines: string[]) => lines.map(line => `${line}\n`).join('')
  const code = await runCommandLine(words, {
    print: line => printed.push(line),
    tell: line => told.push(line),
    isWatched: false,
    code: 0,
  })
  return { code, stdout: text(printed), stderr: text(told) }
}

/** Runs `witness-mark …` as a process of its own, in a folder of the test's own. */
export function run(folder: string, words: string[], env: Record<string, string> = {}): Promise<Ran> {
  return start(words, folder, env).ran
}

export interface Served {
  /** The first line on standard output. */
  line: string
  /** What it has printed on standard output so far. */
  printed(): string
  /** Sends SIGTERM and waits for the end. */
  stop(): Promise<Ran>
}

/** Starts a command that serves and waits for its first line. */
export async function serve(folder: string, words: string[], env: Record<string, string> = {}): Promise<Served> {
  const { child, ran, printed } = start(words, folder, env)
  onTestFinished(async () => {
    child.kill('SIGKILL')
    await ran
  })
  const line = await Promise.race([
    once(createInterface(child.stdout!), 'line').then(([text]) => text as string),
    ran.then(({ code, stderr }): string => {
      throw new Error(`It ended with ${code} before it served: ${stderr}`)
    }),
  ])
  return {
    line,
    printed,
    stop() {
      child.kill('SIGTERM')
      return ran
    },
  }
}
