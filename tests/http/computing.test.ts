import { join } from 'node:path'
import { describe, expect, onTestFinished, test } from 'vitest'
import { createToken } from '../../src/accounts/index.ts'
import { startServer } from '../../src/main.ts'
import { type Context, contextFor } from '../../src/platform/context.ts'
import { migrate } from '../../src/platform/database/migrate.ts'
import { openStore } from '../../src/platform/database/open.ts'
import { pageView } from '../../src/platform/pages/page-view.ts'
import { createRenderer } from '../../src/platform/pages/renderer.ts'
import { workingPage } from '../../src/platform/pages/working.ts'
import { packageRoot } from '../../src/platform/paths.ts'
import { analysedSoon, StillWorking } from '../../src/platform/workers/analysed.ts'
import { computingOf } from '../../src/platform/workers/computing.ts'
import { priorWorkPairs } from '../../src/recurring-failures/index.ts'
import { createCustomer } from '../../src/vehicles/index.ts'
import { testApp } from '../support/app.ts'
import { memoryStore, temporaryFolder, testContext } from '../support/database.ts'
import { importRows, valveSeatRows } from '../support/histories.ts'

/** The program as it is served: on a file, with the worker beside it. */
async function served() {
  const store = openStore(join(temporaryFolder(), 'workshop.db'))
  migrate(store)
  const deps = testContext({ store })
  const system = contextFor(deps, null)
  const { token } = createToken(system, { name: 'reader', role: 'desk' })
  const server = await startServer(deps, { host: '127.0.0.1', port: 0 })
  onTestFinished(() => server.stop())
  const get = async (path: string) => {
    const answer = await fetch(`${server.url}${path}`, { headers: { authorization: `Bearer ${token}` } })
    return {
      status: answer.status,
      body: (await answer.json()) as Record<string, unknown> & { errors?: { pointer: string }[] },
    }
  }
  return { system, get, store }
}

describe('a page that needs what takes longer than its reader has patience', () => {
  const wait = (ms: number) => new Promise(resolve => setTimeout(resolve, ms))

  test('says how far it is, joins what is under way, and shows it though something was written meanwhile', async () => {
    const t = await testApp({ store: memoryStore() })
    onTestFinished(() => t.close())
    let finish: (value: string) => void = () => undefined
    let began = 0
    const work = (ctx: Context) => {
      began += 1
      ctx.tell?.({ done: 3, of: 8, what: 'vehicles read' })
      return new Promise<string>(resolve => {
        finish = resolve
      })
    }
    const looking = { ...t.system, patience_ms: 100 }
    const ask = () => analysedSoon(looking, 'slow', { of: 'a test' }, work)
    const working = await ask().catch((error: unknown) => error)
    expect(working).toBeInstanceOf(StillWorking)
    expect((working as StillWorking).progress).toEqual({ done: 3, of: 8, what: 'vehicles read' })
    createCustomer(t.system, { name: 'Somebody' })
    const again = ask().catch((error: unknown) => error)
    await wait(20)
    finish('there')
    expect([await again, await ask(), began]).toEqual(['there', 'there', 1])
    // whoever reads the page by a program waits for as long as it takes
    const patient = analysedSoon(t.system, 'patient', {}, work)
    await wait(150)
    finish('at last')
    expect(await patient).toBe('at last')
    const quick = () => analysedSoon(looking, 'quick', {}, () => 'at once')
    expect(await quick()).toBe('at once')
  })

  test('hears of a fault as of any other', async () => {
    const t = await testApp({ store: memoryStore() })
    onTestFinished(() => t.close())
    const fails = analysedSoon(t.system, 'fails', {}, () => {
      throw new Error('No such thing')
    })
    await expect(fails).rejects.toThrow('No such thing')
  })

  test('is drawn with how far it is, and asks again by itself', () => {
    const { sheet, view } = workingPage({ done: 40_000, of: 100_000, what: 'vehicles read' })
    const renderer = createRenderer({ templatesDir: join(packageRoot, 'templates') })
    const base = { house: { name: 'H', place: '', address: '' }, signed_in: null, asset: '/assets/x', notice: null }
    const html = renderer.render('errors/working', { ...view, page: pageView(base, sheet) })
    expect(html).toContain('<meta http-equiv="refresh" content="2">')
    expect(html).toMatch(/<progress value="40000" max="100000"[^>]*><\/progress> 40.000 of 100.000 vehicles read/)
  })
})

describe('the worker', () => {
  test('tells how far it is before it answers', async () => {
    const { system, store } = await served()
    importRows(system, [...valveSeatRows(), ...valveSeatRows('work')])
    const told: unknown[] = []
    await computingOf(store)!.ask('prior-work', { min_events: 1 }, system.clock.now(), progress => told.push(progress))
    expect(told[0]).toMatchObject({ done: 0, what: 'operations worked out' })
  })

  test('answers as the program itself would, refusals too, and again after each import', async () => {
    const { system, get, store } = await served()
    expect(computingOf(store)).toBeDefined()
    importRows(system, valveSeatRows())
    importRows(
      system,
      valveSeatRows('work').map(row => ({ ...row, vehicle: `second ${row.vehicle}` })),
    )
    const direct = JSON.parse(JSON.stringify(priorWorkPairs(system, { min_events: 1 }))) as object
    expect((await get('/api/analysis/prior-work?min_events=1')).body).toEqual(direct)
    const curve = await get('/api/analysis/recurrence?component=Valve%20seat')
    expect(curve.body).toMatchObject({ units: 82, events: 48 })
    const refused = await get('/api/analysis/recurrence?component=Nothing')
    expect([refused.status, refused.body.errors?.[0]?.pointer]).toEqual([422, '/component'])
    importRows(system, [{ vehicle: 'late', family: 'Diesel engine', date: '2022-01-01', event: 'in_service' }])
    expect((await get('/api/analysis/recurrence?component=Valve%20seat')).body).toMatchObject({ units: 83 })
    expect((await get('/api/analysis/comeback-rate')).status).toBe(200)
    expect((await get('/api/analysis/warranty-exposure')).status).toBe(200)
    expect((await get('/api/analysis/warranty-backtest')).status).toBe(200)
  })

  test('leaves the pages free while it works', async () => {
    const { system, get } = await served()
    const rows = Array.from({ length: 20_000 }, (_, place) => ({
      vehicle: `V${place % 800}`,
      family: `F${place % 4}`,
      date: `20${String(10 + ((place * 7) % 20))}-0${1 + (place % 9)}-1${place % 10}`,
      event: place % 2 === 0 ? 'work' : 'failure',
      by: place % 2 === 0 ? 'us' : '',
      operation: place % 2 === 0 ? `Operation ${place % 40}` : '',
      component: place % 2 === 0 ? '' : `Component ${place % 30}`,
    }))
    importRows(system, rows)
    await get('/api/analysis/comeback-rate')
    let isDone = false
    const analysis = get('/api/analysis/prior-work?window=400').finally(() => {
      isDone = true
    })
    let meanwhile = 0
    while (!isDone) {
      expect((await get('/healthz')).status).toBe(200)
      if (!isDone) meanwhile += 1
    }
    expect((await analysis).status).toBe(200)
    expect(meanwhile).toBeGreaterThan(3)
  })
})
