import { describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'

const app = eachTestItsApp()
const blank = { component: '', symptom: '', operation: '', by: '' }
const row = (date: string, more: Record<string, string>) => ({ vehicle: date, family: 'F', date, ...blank, ...more })
const hum = (date: string) => row(date, { event: 'failure', component: 'Bearing', symptom: 'Hum' })
const two = (number: number) => String(number).padStart(2, '0')
/** Three jobs a month, from January to December 2029. */
const work = Array.from({ length: 36 }, (_, at) =>
  row(`2029-${two(1 + (at % 12))}-${two(1 + Math.floor(at / 12))}`, { event: 'work', by: 'us', operation: 'Service' }),
)

const read = async (t: TestApp, query: string) =>
  (await page(t, `/recurring/season?${query}`, t.cookie('desk'))).replace(/<[^>]*>/g, ' ').replace(/[\s\u00a0]+/g, ' ')

describe('/recurring/season', () => {
  test('says where in the year it lies, draws both, and has the twelve counts of both beside it', async () => {
    const t = await app()
    importRows(t.system, [
      ...work,
      ...[1, 2, 3].map(day => hum(`2030-01-${two(day)}`)),
      ...[1, 2, 3].map(day => hum(`2030-02-${two(day)}`)),
      ...[1, 2, 3].map(day => hum(`2030-03-${two(day)}`)),
    ])
    const text = await read(t, 'symptom=Hum')
    // three a month at 15, 45 and 75 degrees: 45 degrees on the whole, and 45 is the middle of February
    expect(text).toContain('“Hum” has a season: it lies around mid February.')
    expect(text).toContain('chance would do as much in fewer than 1 of 100 draws')
    expect(text).toContain('Peak month: February')
    expect(text).toMatch(/January 3 3 February 3 3 March 3 3 April 0 3 .*December 0 3 The year 9 36/)
    expect(text).toContain('9 times')
    expect(await read(t, 'component=Bearing')).toContain('“Bearing” has a season')
    const even = await read(t, 'symptom=Hum&as_of=2029-12-31')
    expect(even).toContain('Cannot tell: “Hum” came 0 times; fewer than five may lie anywhere in the year.')
  })

  test('no season of its own, counts that point nowhere, and too many for the jobs', async () => {
    const t = await app()
    importRows(t.system, [...work, ...Array.from({ length: 12 }, (_, at) => hum(`2030-${two(at + 1)}-05`))])
    expect(await read(t, 'symptom=Hum')).toMatch(
      /“Hum” is not shown to have a season of its own: it points nowhere in the year, but chance would do as much in 100 of 100/,
    )
    importRows(
      t.system,
      Array.from({ length: 28 }, (_, at) => hum(`2028-06-${two(at + 1)}`)),
    )
    expect(await read(t, 'symptom=Hum')).toContain(
      'Cannot tell: “Hum” came 40 times, more often than there are jobs of which the months are known (36).',
    )
  })

  test('asks first, and keeps the form with what it does not know', async () => {
    const t = await app()
    expect(await read(t, '')).toContain('What has a season')
    const reply = await t.app.inject({
      url: '/recurring/season?symptom=Nothing',
      headers: { cookie: t.cookie('desk') },
    })
    expect(reply.statusCode).toBe(422)
    for (const text of ['href="#symptom"', 'There is no symptom', 'Work it out']) expect(reply.body).toContain(text)
  })
})
