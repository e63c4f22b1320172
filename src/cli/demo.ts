import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Command } from 'commander'
import { type Clock, clockFrom, handClock } from '../platform/clock.ts'
import type { Deps } from '../platform/context.ts'
import { openMigrated } from '../platform/database/migrate.ts'
import { countedIds } from '../platform/ids.ts'
import { depsFor } from './database.ts'
import { addPort } from './port.ts'
import type { Shell } from './shell.ts'

const PAGES = [
  ['/', 'In the house: what is here, and what stands in the way'],
  ['/bench', 'The bench: log in as a technician and open a job'],
  ['/recurring', 'What often follows what'],
  ['/comebacks', 'Suspected comebacks, decided and open'],
  ['/wrenches', 'Wrenches: one was found outside its limits'],
]

/** The workshop's own day: the story is told with a clock moved by hand, which then goes on at the real pace. */
async function toldDeps(file: string): Promise<Deps> {
  const { DEMO_NOW, tellWorkshop } = await import('../../seed/workshop.ts')
  const told = handClock(DEMO_NOW)
  let clock: Clock = told
  const ids = countedIds({ now: () => clock.now() })
  const deps = { ...depsFor(await openMigrated(file)), ids }
  await tellWorkshop({ ...deps, clock: told })
  clock = clockFrom(DEMO_NOW)
  return { ...deps, clock }
}

async function serveDemo(folder: string, port: number, shell: Shell): Promise<void> {
  const { listen, untilStopped } = await import('./listen.ts')
  const { CREW, DEMO_PASSWORD } = await import('../../seed/people.ts')
  const server = await listen(await toldDeps(path.join(folder, 'demo.db')), { port, host: '127.0.0.1' })
  shell.print(server.url)
  shell.print(
    `Log in as ${CREW.map(({ name, role }) => `${name} (${role})`).join(', ')}; the password is ${DEMO_PASSWORD}`,
  )
  for (const [address, about] of PAGES) shell.print(`${server.url}${address}  ${about}`)
  shell.print('The database is thrown away when this ends (Ctrl-C).')
  await untilStopped(server)
}

export function addDemo(program: Command, shell: Shell): void {
  addPort(program.command('demo'))
    .description('serve the demo workshop from a throw-away database')
    .action(async ({ port }: { port: number }) => {
      const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'witness-mark-demo-'))
      try {
        await serveDemo(folder, port, shell)
      } finally {
        fs.rmSync(folder, { recursive: true, force: true })
      }
    })
}
