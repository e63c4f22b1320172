import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import type { Command } from 'commander'
import { type Clock, clockFrom, type HandClock, handClock } from '../platform/clock.ts'
import type { Deps } from '../platform/context.ts'
import { attachmentsFolder, copyAttachments, namedAttachments } from '../platform/database/attachments.ts'
import { copyDatabase } from '../platform/database/copy.ts'
import { openMigrated } from '../platform/database/migrate.ts'
import { countedIds, type Ids } from '../platform/ids.ts'
import { depsFor } from './database.ts'
import { addPort } from './port.ts'
import type { Shell } from './shell.ts'

const PAGES = [
  ['/', 'In the house: what is here, and what stands in the way'],
  ['/bench', 'The bench: log in as a technician and open a job'],
  ['/recurring', 'What often follows what'],
  ['/comebacks', 'Suspected comebacks, decided and open'],
  ['/tools', 'Wrenches and gauges: one was found outside its limits'],
]

/** Tells the story in memory, so that whoever stops it half way leaves nothing behind, and gives it a file of its own. */
async function tellInto(file: string, ids: Ids, clock: HandClock): Promise<void> {
  const { tellWorkshop } = await import('../../seed/workshop.ts')
  const store = await openMigrated(':memory:')
  try {
    await tellWorkshop({ ...depsFor(store), ids, clock })
    fs.mkdirSync(path.dirname(file))
    copyAttachments(store.files, attachmentsFolder(file), namedAttachments(store.raw))
    await copyDatabase(store.raw, file)
  } finally {
    store.close()
  }
}

/** The workshop's own day: the story is told with a clock moved by hand, which then goes on at the real pace. */
async function toldDeps(file: string): Promise<Deps> {
  const { DEMO_NOW } = await import('../../seed/workshop.ts')
  const told = handClock(DEMO_NOW)
  let clock: Clock = told
  const ids = countedIds({ now: () => clock.now() })
  await tellInto(file, ids, told)
  clock = clockFrom(DEMO_NOW)
  return { ...depsFor(await openMigrated(file)), ids, clock }
}

async function serveDemo(folder: string, port: number, shell: Shell): Promise<void> {
  const { listen, untilStopped } = await import('./listen.ts')
  const { CREW, DEMO_PASSWORD } = await import('../../seed/people.ts')
  shell.tell('Telling three years of the workshop first; that takes a while.')
  const server = await listen(await toldDeps(path.join(folder, 'demo.db')), { port, host: '127.0.0.1' })
  const people = CREW.map(({ name, role }) => `${name} (${role})`)
  shell.print(server.url)
  shell.print(`Log in as ${people.join(', ')}; the password is ${DEMO_PASSWORD}`)
  for (const [address, about] of PAGES) shell.print(`${server.url}${address}  ${about}`)
  shell.print('The database is thrown away when this ends (Ctrl-C).')
  await untilStopped(server)
}

export function addDemo(program: Command, shell: Shell): void {
  addPort(program.command('demo'))
    .description('serve the demo workshop from a throw-away database')
    .action(async ({ port }: { port: number }) => {
      const folder = path.join(os.tmpdir(), `witness-mark-demo-${randomUUID()}`)
      try {
        await serveDemo(folder, port, shell)
      } finally {
        fs.rmSync(folder, { recursive: true, force: true })
      }
    })
}
