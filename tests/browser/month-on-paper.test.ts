import { expect, test } from 'vitest'
import { eachFileItsBrowser, served, signIn } from '../support/browser.ts'
import { comebackWorld } from '../support/comeback-world.ts'

const browser = eachFileItsBrowser()

test('a month with ten returns prints on two sheets, and its table of months is not torn', async () => {
  const t = await served()
  const w = comebackWorld(t)
  const earlier_job_id = w.finish(w.order)
  for (let nth = 0; nth < 10; nth += 1) {
    const later_work_order_id = w.later(1)
    await w.decide({ earlier_job_id, later_work_order_id, borne_by: 'us', category: 'part', why: 'A'.repeat(60) })
    w.finish(later_work_order_id)
  }
  const month = new Date(t.clock.now()).toISOString().slice(0, 7)
  const marta = await signIn(browser(), t, { name: 'Marta Oake', role: 'owner' })
  await marta.goto(`/months/${month}`)
  await marta.getByText('10 confirmed').waitFor()
  const pdf = await marta.pdf({ preferCSSPageSize: true })
  expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(2)
  await marta.emulateMedia({ media: 'print' })
  const breaks = `getComputedStyle(document.querySelector('#by-month').closest('.column')).breakInside`
  expect(await marta.evaluate(breaks)).toBe('avoid')
})
