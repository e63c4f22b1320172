import { describe, expect, test } from 'vitest'
import { eachTestItsApp } from '../support/app.ts'
import { page } from '../support/forms.ts'
import { importRows } from '../support/histories.ts'

const app = eachTestItsApp()

/** An old family has ten times the work and ten times the failures of a new one, each without regard to the other. */
function decoy(): Record<string, string | number>[] {
  const rows: Record<string, string | number>[] = []
  const life = (vehicle: string, family: string, works: boolean, failures: string[]) => {
    const row = (date: string, more: Record<string, string | number>) => rows.push({ vehicle, family, date, ...more })
    row('2029-01-01', { event: 'in_service' })
    row('2031-01-01', { event: 'seen' })
    if (works) row('2030-01-01', { event: 'work', by: 'other', operation: 'Chain: renew' })
    for (const on of failures) row(on, { event: 'failure', component: 'Lamp', failure_mode: 'dark' })
  }
  for (let number = 0; number < 10; number += 1)
    life(`O${number}`, 'Tramp 300', number < 9, ['2029-06-01', '2030-06-01'])
  for (let number = 0; number < 30; number += 1)
    life(`N${number}`, 'Tramp 125', number < 3, number === 0 ? ['2030-06-01'] : number < 3 ? ['2029-06-01'] : [])
  return rows
}

describe('the pages of what follows what', () => {
  test('name a pair that only looks like one: the old family has more of everything', async () => {
    const t = await app()
    importRows(t.system, decoy())
    const html = await page(t, '/recurring', t.cookie('owner'))
    const text = html.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
    expect(text).toContain('The one pair that was tested is not shown')
    expect(text).toContain(
      'Looks like it only because some families have more of both: compared within the same family it is not shown.',
    )
    expect(text).toMatch(/together [3-9]/)
  })

  test.each([
    ['/recurring?window=soon', 'href="#window"', 'value="soon"'],
    ['/recurring?as_of=2031-02-30', 'href="#as-of"', 'value="2031-02-30"'],
    ['/recurring/recurrence?clock=weeks&component=Bearing', 'href="#clock"', 'Choose one of: Days, Distance.'],
    ['/comebacks/rate?from=2031-03-02&to=2031-03-01', 'href="#to"', 'value="2031-03-01"'],
  ])('%s keeps the form with what is wrong beside it', async (address, link, kept) => {
    const t = await app()
    const reply = await t.app.inject({ url: address, headers: { cookie: t.cookie('owner') } })
    expect(reply.statusCode).toBe(422)
    for (const text of [link, kept, 'Work it out']) expect(reply.body).toContain(text)
  })
})
