import { describe, expect, test } from 'vitest'
import { importHistory } from '../../src/history/index.ts'
import { type TestContext, testContext } from '../support/database.ts'
import { historyCsv, historyFile } from '../support/histories.ts'

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

describe('a fault says line, column and reason, and nothing is written', () => {
  const header =
    'vehicle,family,date,distance,event,by,operation,component,hours,labour_minor,warranty_days,warranty_km,comeback_of,id'
  const cases: [string, string, string[]][] = [
    ['no vehicle', ',F,2030-01-01,,seen,,,,,,,,,', ['2 vehicle: is empty']],
    ['no family', 'V,,2030-01-01,,seen,,,,,,,,,', ['2 family: is empty']],
    ['no event', 'V,F,2030-01-01,,,,,,,,,,,', ['2 event: is empty; it is one of in_service, seen, work, failure']],
    [
      'an unknown event',
      'V,F,2030-01-01,,sold,,,,,,,,,',
      ['2 event: "sold" is none of in_service, seen, work, failure'],
    ],
    [
      'an impossible day',
      'V,F,2030-02-30,,seen,,,,,,,,,',
      ['2 date: "2030-02-30" is not a day that exists, written YYYY-MM-DD'],
    ],
    [
      'a day written otherwise',
      'V,F,1/2/2030,,seen,,,,,,,,,',
      ['2 date: "1/2/2030" is not a day that exists, written YYYY-MM-DD'],
    ],
    ['undated but not work', 'V,F,,,seen,,,,,,,,,', ['2 date: is empty; only work may be undated']],
    ['a negative distance', 'V,F,2030-01-01,-5,seen,,,,,,,,,', ['2 distance: "-5" is negative']],
    [
      'a distance that is no decimal',
      'V,F,2030-01-01,1e3,seen,,,,,,,,,',
      ['2 distance: "1e3" is not a decimal number, such as 12.5'],
    ],
    [
      'a distance with a decimal comma',
      'V,F,2030-01-01,"12,5",seen,,,,,,,,,',
      ['2 distance: "12,5" is not a decimal number, such as 12.5'],
    ],
    ['an unknown doer', 'V,F,2030-01-01,,work,them,Op,,,,,,,', ['2 by: "them" is none of us, other, owner, unknown']],
    ['work without operation', 'V,F,2030-01-01,,work,us,,,,,,,,', ['2 operation: is empty; work needs one']],
    ['failure without component', 'V,F,2030-01-01,,failure,,,,,,,,,', ['2 component: is empty; a failure needs one']],
    [
      'hours that are no number',
      'V,F,2030-01-01,,work,us,Op,,many,,,,,',
      ['2 hours: "many" is not a decimal number, such as 12.5'],
    ],
    ['money with decimals', 'V,F,2030-01-01,,work,us,Op,,,12.5,,,,', ['2 labour_minor: "12.5" is not a whole number']],
    ['a term with decimals', 'V,F,2030-01-01,,work,us,Op,,,,1.5,,,', ['2 warranty_days: "1.5" is not a whole number']],
    ['a negative term', 'V,F,2030-01-01,,work,us,Op,,,,,-1,,', ['2 warranty_km: "-1" is negative']],
    [
      'a comeback of nothing',
      'V,F,2030-01-01,,work,us,Op,,,,,,x,',
      ['2 comeback_of: x is the id of no row in this import'],
    ],
    ['a comeback of itself', 'V,F,2030-01-01,,work,us,Op,,,,,,x,x', ['2 comeback_of: x names its own row']],
    [
      'a comeback on a reading',
      'V,F,2030-01-01,,seen,,,,,,,,x,',
      ['2 comeback_of: stands on seen; only work or a failure can be a comeback'],
    ],
    ['too few cells', 'V,F,2030-01-01', ['2 distance: has 3 cells; the header has 14']],
    ['too many cells', 'V,F,2030-01-01,,seen,,,,,,,,,,', ['2 id: has 15 cells; the header has 14']],
    [
      'several at once',
      ',F,2030-13-01,x,seen,,,,,,,,,',
      [
        '2 date: "2030-13-01" is not a day that exists, written YYYY-MM-DD',
        '2 distance: "x" is not a decimal number, such as 12.5',
        '2 vehicle: is empty',
      ],
    ],
  ]
  test.each(cases)('%s', async (_name, row, expected) => {
    const ctx = testContext()
    expect(faultsOf(ctx, `${header}\n${row}\n`)).toEqual(expected)
    expect(count(ctx, 'vehicles')).toBe(0)
    expect(count(ctx, 'history_imports')).toBe(0)
  })

  const work = { ...GOOD, event: 'work', operation: 'Belt: renew', by: 'us', component: '', comeback_of: '', id: '' }

  test('a comeback later, on another vehicle, or of something that is no work', async () => {
    const ctx = testContext()
    expect(
      faultsOf(
        ctx,
        historyCsv([
          { ...work, date: '2030-06-02', id: 'late' },
          { ...work, date: '2030-06-01', comeback_of: 'late' },
          { ...work, vehicle: 'V2', date: '2030-07-01', comeback_of: 'late' },
          { ...work, event: 'failure', operation: '', component: 'Belt', id: 'failed' },
          { ...work, date: '2030-07-01', comeback_of: 'failed' },
        ]),
      ),
    ).toEqual([
      '3 comeback_of: late names work of 2030-06-02, which is later than this row',
      '4 comeback_of: late names work on another vehicle, V1',
      '6 comeback_of: failed names a row that is failure, not work',
    ])
  })

  test('an id twice, also in two files, and two families for a vehicle', async () => {
    const ctx = testContext()
    const first = historyCsv([
      { ...work, id: 'a' },
      { ...work, date: '2030-06-01', id: 'a' },
    ])
    const second = historyCsv([{ ...work, date: '2030-07-01', id: 'a', family: 'Pikko Tramp' }])
    expect(faultsOf(ctx, first, second)).toEqual([
      'file-1.csv 3 id: a stands already on line 2',
      'file-2.csv 2 family: is Pikko Tramp, and V1 is a Corvane Haulette in an earlier row',
      'file-2.csv 2 id: a stands already in file-1.csv on line 2',
    ])
  })

  test('the line is the physical one on which the record begins', async () => {
    const ctx = testContext()
    const text =
      'vehicle,family,date,event,note\r\nV,F,2030-01-01,seen,"two\r\nlines\r\n"\r\n\r\nV,F,2030-01-01,sold,\r\n'
    expect(faultsOf(ctx, text)).toEqual(['6 event: "sold" is none of in_service, seen, work, failure'])
  })

  test('a header with unknown, doubled and missing columns', async () => {
    const ctx = testContext()
    expect(faultsOf(ctx, 'vehicle,family,colour,event,event\nV,F,red,seen,seen\n')).toEqual([
      '1 colour: is not a column of the history format.',
      '1 event: stands in the header twice',
      '1 date: is missing from the header',
    ])
    expect(faultsOf(ctx, 'vehicle;family;date;event\n')).toContain(
      '1 vehicle;family;date;event: is not a column of the history format. Columns are parted by commas.',
    )
    expect(faultsOf(ctx, '')).toEqual(['1 vehicle: is missing: the file has no header row'])
  })

  test('a quote that is never closed, or stands in the wrong place', async () => {
    const ctx = testContext()
    expect(faultsOf(ctx, 'vehicle,family,date,event,note\nV,F,2030-01-01,seen,\nV,F,2030-01-01,seen,"open\n')).toEqual([
      '3 note: opens a quote that is never closed; nothing behind it could be read',
    ])
    expect(faultsOf(ctx, 'vehicle,family,date,event,note\nV,F,2030-01-01,seen,"a"b\n')).toEqual([
      '2 note: has a quote in the wrong place (inside a quoted cell a quote is written twice); nothing behind it could be read',
    ])
  })

  test('bytes that are not UTF-8', async () => {
    const ctx = testContext()
    const bytes = Buffer.concat([
      Buffer.from('vehicle,family,date,event\nV,Gr'),
      Buffer.from([0xfc]),
      Buffer.from('n,2030-01-01,seen\n'),
    ])
    expect(faultsOf(ctx, bytes)).toEqual(['2 family: is not readable as UTF-8 text'])
  })

  test('a file that cannot be read', () => {
    const ctx = testContext()
    const result = importHistory(ctx, [{ name: 'gone.csv', path: '/nowhere/gone.csv' }])
    expect(result.ok ? null : result.faults[0]).toMatchObject({ file: 'gone.csv', line: null, column: null })
  })
})
