import { describe, expect, test } from 'vitest'
import { importHistory } from '../../src/history/index.ts'
import { setHash } from '../../src/platform/database/row-hash.ts'
import { eachTestItsApp } from '../support/app.ts'
import { type TestContext, testContext } from '../support/database.ts'
import { historyCsv, historyFile, importRows } from '../support/histories.ts'

const app = eachTestItsApp()

const GOOD = { vehicle: 'V1', family: 'Corvane Haulette', date: '2030-05-01', distance: '', event: 'seen' }

/** What an import of these bytes is refused for, as `line column: reason`. */
function faultsOf(ctx: TestContext, ...contents: (string | Buffer)[]): string[] {
  const files = contents.map((content, place) => historyFile(content, `file-${place + 1}.csv`))
  const result = importHistory(ctx, files)
  if (result.ok) return []
  return result.faults.map(
    fault => `${contents.length > 1 ? `${fault.file} ` : ''}${fault.line} ${fault.column}: ${fault.reason}`,
  )
}

function count(ctx: TestContext, table: string): number {
  return ctx.store.raw.prepare(`select count(*) from ${table}`).pluck().get() as number
}

describe('importing a history', () => {
  test('reads any column order, a byte order mark, CRLF, quoted line ends and empty lines', () => {
    const ctx = testContext()
    const text = [
      '\uFEFFevent,note,date,family,vehicle,operation,by,distance,id',
      'in_service,,2028-01-10,Corvane Haulette,QH 418 TK,,,,',
      '',
      'work,"said ""it hums""\r\nand left",2029-02-12,Corvane Haulette,QH 418 TK,Axle shaft boot: replace,other,44900.5,w1',
      'work,,,Corvane Haulette,QH 418 TK,Timing belt: replace,,,',
    ].join('\r\n')
    const result = importHistory(ctx, [historyFile(text)])
    expect(result).toEqual({
      ok: true,
      counts: {
        files: 1,
        rows: 3,
        events: { in_service: 1, seen: 0, work: 2, failure: 0 },
        vehicles: 1,
        new_vehicles: 1,
      },
    })
    const { raw } = ctx.store
    expect(
      raw.prepare('select line, event, by, date, distance_km, note from history_events order by line').all(),
    ).toEqual([
      { line: 2, event: 'in_service', by: null, date: '2028-01-10', distance_km: null, note: null },
      {
        line: 4,
        event: 'work',
        by: 'other',
        date: '2029-02-12',
        distance_km: 44900.5,
        note: 'said "it hums"\r\nand left',
      },
      { line: 6, event: 'work', by: 'unknown', date: null, distance_km: null, note: null },
    ])
    expect(raw.prepare('select name from operations order by name').pluck().all()).toEqual([
      'Axle shaft boot: replace',
      'Timing belt: replace',
    ])
  })

  test('is one write: one event a file covers the set of its rows and all that was created', () => {
    const ctx = testContext()
    const before = count(ctx, 'events')
    importRows(ctx, [
      GOOD,
      { ...GOOD, event: 'failure', component: 'Alternator', failure_mode: 'worn', symptom: 'does not charge' },
    ])
    expect(count(ctx, 'events')).toBe(before + 1)
    const { raw } = ctx.store
    const id = raw.prepare('select id from history_imports').pluck().get() as string
    const rows = raw
      .prepare(
        "select table_name, row_id, row_sha256 from event_rows where event_seq = (select max(seq) from events) and table_name = 'history_events'",
      )
      .all()
    expect(rows).toEqual([
      { table_name: 'history_events', row_id: id, row_sha256: setHash(raw, 'history_events', 'import_id', id) },
    ])
    const tables = raw
      .prepare('select distinct table_name from event_rows where event_seq = (select max(seq) from events)')
      .pluck()
      .all()
    expect(tables).toEqual(
      expect.arrayContaining(['families', 'vehicles', 'components', 'failure_modes', 'symptoms', 'history_imports']),
    )
  })

  test('takes a comeback that names a later row, and one in another file of the same command', () => {
    const ctx = testContext()
    const comeback = { ...GOOD, date: '2030-06-01', event: 'failure', component: 'Bearing', comeback_of: 'belt' }
    const belt = { ...GOOD, date: '2030-05-01', event: 'work', by: 'us', operation: 'Belt: renew', id: 'belt' }
    const other = {
      ...GOOD,
      date: '2030-07-01',
      event: 'work',
      by: 'us',
      operation: 'Bearing: replace',
      comeback_of: 'belt',
    }
    const result = importHistory(ctx, [
      historyFile(historyCsv([other]), 'a.csv'),
      historyFile(historyCsv([comeback, belt]), 'b.csv'),
    ])
    expect(result.ok).toBe(true)
    const { raw } = ctx.store
    const of = raw
      .prepare('select e.row_name from history_events h join history_events e on e.id = h.comeback_of_id')
      .pluck()
      .all()
    expect(of).toEqual(['belt', 'belt'])
    expect(raw.pragma('foreign_key_check')).toEqual([])
  })

  test('goes on with a vehicle that an earlier import named, and refuses another family for it', () => {
    const ctx = testContext()
    importRows(ctx, [GOOD])
    importRows(ctx, [{ ...GOOD, date: '2030-06-01' }])
    expect(count(ctx, 'vehicles')).toBe(1)
    expect(faultsOf(ctx, historyCsv([{ ...GOOD, date: '2030-07-01', family: 'Pikko Tramp' }]))).toEqual([
      '2 family: is Pikko Tramp, and V1 is a Corvane Haulette in the database',
    ])
  })

  test('refuses bytes that were imported before, and the same file twice in one command', () => {
    const ctx = testContext()
    const file = historyFile(historyCsv([GOOD]))
    expect(importHistory(ctx, [file, { ...file, name: 'again.csv' }])).toEqual({
      ok: false,
      faults: [
        {
          file: 'again.csv',
          line: null,
          column: null,
          reason: 'has the same bytes as history.csv, which is given too',
        },
      ],
    })
    expect(importHistory(ctx, [file]).ok).toBe(true)
    const again = importHistory(ctx, [{ ...file, name: 'renamed.csv' }])
    expect(again.ok ? [] : again.faults.map(fault => fault.reason)).toEqual([
      'was imported already, as history.csv on 3 March 2031: the bytes are the same',
    ])
    expect(count(ctx, 'history_events')).toBe(1)
  })

  test('a dry run finds the same and writes nothing', () => {
    const ctx = testContext()
    const before = count(ctx, 'events')
    const file = historyFile(historyCsv([GOOD]))
    const dry = importHistory(ctx, [file], { dryRun: true })
    expect(count(ctx, 'events')).toBe(before)
    expect(count(ctx, 'vehicles')).toBe(0)
    expect(importHistory(ctx, [file])).toEqual(dry)
  })

  test('is for the owner and the command line', () => {
    const ctx = testContext({ actor: { id: 'd', name: 'Desk', role: 'desk' } })
    expect(() => importHistory(ctx, [])).toThrow(/needs the role/)
  })

  test('tells how far it is', () => {
    const ctx = testContext()
    const rows = Array.from({ length: 2500 }, (_, day) => ({ ...GOOD, vehicle: `V${day % 3}`, distance: day }))
    const phases: string[] = []
    importHistory(ctx, [historyFile(historyCsv(rows))], {
      onProgress: ({ phase, done, total }) => {
        expect(done).toBeLessThanOrEqual(total)
        if (phases.at(-1) !== phase) phases.push(phase)
      },
    })
    expect(phases).toEqual(['reading', 'writing', 'sealing'])
  })
})

describe('GET /api/vehicles/{id}/history', () => {
  test('tells the life in the history format, undated work first, then oldest first', async () => {
    const { app: server, system, tokens } = await app()
    importRows(system, [
      {
        ...GOOD,
        event: 'failure',
        component: 'Alternator',
        failure_mode: 'worn',
        distance: 99700.5,
        date: '2030-07-09',
        labour_minor: 100,
        comeback_of: 'belt',
      },
      {
        ...GOOD,
        event: 'work',
        by: 'us',
        operation: 'Alternator belt: replace',
        id: 'belt',
        date: '2030-03-20',
        warranty_days: 90,
      },
      { ...GOOD, event: 'work', by: '', operation: 'Timing belt: replace', date: '' },
      { ...GOOD, event: 'in_service', date: '2027-05-17', first_registered_on: '2027-05-01' },
    ])
    const id = system.store.raw.prepare('select id from vehicles').pluck().get() as string
    const get = (path: string) =>
      server.inject({ url: path, headers: { authorization: `Bearer ${tokens.technician}` } })
    const answer = await get(`/api/vehicles/${id}/history`)
    expect(answer.statusCode).toBe(200)
    const { events } = answer.json() as { events: Record<string, unknown>[] }
    expect(events.map(({ date, event, operation, component }) => [date, event, operation ?? component])).toEqual([
      [null, 'work', 'Timing belt: replace'],
      ['2027-05-17', 'in_service', null],
      ['2030-03-20', 'work', 'Alternator belt: replace'],
      ['2030-07-09', 'failure', 'Alternator'],
    ])
    expect(events[0]).toMatchObject({ vehicle: 'V1', family: 'Corvane Haulette', by: 'unknown', distance: null })
    expect(events[3]).toMatchObject({
      distance: 99700.5,
      failure_mode: 'worn',
      labour_minor: 100,
      comeback_of: 'belt',
      by: null,
    })
    expect(events[2]).toMatchObject({ id: 'belt', by: 'us', warranty_days: 90, source: 'history_events' })
    expect((await get('/api/vehicles/none/history')).statusCode).toBe(404)
  })
})
