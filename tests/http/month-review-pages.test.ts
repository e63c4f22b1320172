import { beforeEach, describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { hiddenFields, sendForm } from '../support/http.ts'
import { twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
})

describe('the pages', () => {
  async function page(url: string, role: 'owner' | 'desk' | 'technician' = 'owner') {
    const reply = await t.app.inject({ url, headers: { cookie: t.cookie(role) } })
    const text = reply.body
      .replace(/<svg.*?<\/svg>/gs, ' ')
      .replace(/<[^>]*>/g, ' ')
      .replace(/\s+/g, ' ')
    return { status: reply.statusCode, html: reply.body, text }
  }

  test('say the month in words, with the way to decide', async () => {
    const story = twoMonths(t, w)
    const { mopedBack } = await story.goOn()
    const march = await page('/months/2031-03?as_of=2031-04-02')
    expect(march.text).toContain(
      'One earlier job came back in March 2031; there are no months before it to compare with. It cost us €38.00.',
    )
    expect(march.text).toContain('2 jobs handed back · 2 vehicles · 1.7 book hours')
    expect(march.text).toContain('as known on 2 April 2031')
    expect(march.text).toMatch(
      /Rear lamp bulb: replace .* 17 d part The belt was set too tight. €38.00 0.2 hours not billed we do/,
    )
    expect(march.text).toContain('Tax 20 % on €152.00 €30.40')
    const april = await page('/months/2031-04')
    expect(april.text).toContain(
      'No earlier job came back in April 2031; in the month before, one did. One stay is waiting for your decision.',
    )
    expect(april.html).toContain(`href="/comebacks/${story.second}/${mopedBack}"`)
    expect(april.html).toContain('href="/months/2031-04?as_of&#x3D;2031-05-01"')
    const empty = await page('/months/2030-01')
    expect(empty.text).toContain('Nothing was handed back in January 2030, and nothing came back.')
    expect(empty.text).not.toMatch(/NaN|undefined|null/)
  })

  test('show money to the owner and the desk only, and the decision to the owner only', async () => {
    const story = twoMonths(t, w)
    await story.goOn()
    for (const url of ['/months', '/months/2031-03?as_of=2031-04-02', '/months/2031-04']) {
      expect((await page(url)).text).toContain('€')
      expect((await page(url, 'desk')).text).toContain('€')
      expect((await page(url, 'technician')).text).not.toContain('€')
    }
    expect((await page('/months/2031-04', 'desk')).text).toContain('One stay is waiting for the owner’s decision.')
    expect((await page('/months/2031-04', 'desk')).html).not.toContain(`href="/comebacks/${story.second}`)
  })

  test('list each month as its own page says it: known at its end', async () => {
    await twoMonths(t, w).goOn()
    // decided in May: at the end of April the moped was still to decide
    const [{ earlier_job_id, later_work_order_id }] = await w.suspicions()
    await w.decide({ earlier_job_id, later_work_order_id, borne_by: 'us' })
    const list = await page('/months')
    expect(list.text).toMatch(/April 2031 1 1 0 1 /)
    expect((await page('/months/2031-04')).text).toContain('One stay is waiting for your decision.')
    expect((await page('/months/2031-04?as_of=2031-05-01')).text).not.toContain('waiting for your decision')
    expect(list.text).toContain('any other as known at its end')
  })

  test('issue a month from the page that shows what is issued, and list it so from then on', async () => {
    await twoMonths(t, w).goOn()
    const [{ earlier_job_id, later_work_order_id }] = await w.suspicions()
    await w.decide({ earlier_job_id, later_work_order_id, borne_by: 'us' })
    const issue = 'action="/months/2031-04/issue"'
    const atItsEnd = await page('/months/2031-04')
    expect(atItsEnd.text).toContain('This is what was known on 30 April 2031.')
    expect(atItsEnd.html).not.toContain(issue)
    const today = '/months/2031-04?as_of=2031-05-01'
    expect(atItsEnd.html.replaceAll('&#x3D;', '=')).toContain(`href="${today}"`)
    const seen = await page(today)
    expect(seen.html).toContain(issue)
    expect((await page(today, 'desk')).html).not.toContain(issue)
    const address = '/months/2031-04/issue'
    const answer = await sendForm(t, address, t.cookie('owner'), hiddenFields(seen.html, address))
    expect(answer.statusCode).toBe(303)
    const issued = await page('/months/2031-04')
    for (const { text } of [seen, issued])
      expect(text).toContain('One earlier job came back in April 2031; in the month before, one did.')
    expect(issued.text).toContain('Nothing of it is known differently today.')
    expect((await page('/months')).text).toMatch(/April 2031 issued 1 1 1 0 /)
  })

  test('list the months, newest first', async () => {
    await twoMonths(t, w).goOn()
    const { text } = await page('/months')
    // 1 job, 1 vehicle, none back, one to decide; 2 jobs, 2 vehicles, one back, none to decide
    expect(text).toMatch(/April 2031 1 1 0 1 €0.00 €74.40 March 2031 2 2 1 0 €152.00 €0.00/)
  })

  test('refuse in words what is no month', async () => {
    const future = await page('/months/2031-04')
    expect(future.status).toBe(422)
    expect(future.text).toContain('This month has not begun.')
    expect(future.text).not.toMatch(/JSON|errors|Request/)
    expect((await page('/months/2031-3')).text).toContain('A month is written as YYYY-MM, as 2031-03.')
    expect((await page('/months')).text).toContain('No job has been handed back yet.')
  })
})
