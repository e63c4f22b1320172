import fs from 'node:fs'
import os from 'node:os'
import path from 'node:path'
import pino from 'pino'
import { onTestFinished } from 'vitest'
import { type HandClock, handClock } from '../../src/platform/clock.ts'
import type { Actor, Context } from '../../src/platform/context.ts'
import { migrate } from '../../src/platform/database/migrate.ts'
import { openStore, type Store } from '../../src/platform/database/open.ts'
import { countedIds } from '../../src/platform/ids.ts'

/** Every test's first moment, unless it says another: a Monday morning. */
export const TEST_NOW = Date.UTC(2031, 2, 3, 8, 0)

export const silentLog = pino({ level: 'silent' })

let template: Buffer | undefined

/** An empty, migrated database in memory for one test (a copy of bytes that are made once). */
export function memoryStore(): Store {
  if (template === undefined) {
    const store = openStore(':memory:')
    migrate(store)
    template = store.raw.serialize()
    store.close()
  }
  const store = openStore(template)
  onTestFinished(() => store.close())
  return store
}

/** A folder that is gone after the test. */
export function temporaryFolder(): string {
  const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'witness-mark-test-'))
  onTestFinished(() => fs.rmSync(folder, { recursive: true, force: true }))
  return folder
}

export interface TestContext extends Context {
  clock: HandClock
}

/** A context over a database of the test's own, with a clock that stands still and ids that are the same every time. */
export function testContext(more: { store?: Store; actor?: Actor | null; now?: number } = {}): TestContext {
  const store = more.store ?? memoryStore()
  const clock = handClock(more.now ?? TEST_NOW)
  return {
    store,
    read: store.read,
    clock,
    ids: countedIds(clock),
    log: silentLog,
    actor: more.actor ?? null,
  }
}
