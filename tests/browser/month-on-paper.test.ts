import { expect, test } from 'vitest'
import { createVehicle } from '../../src/vehicles/index.ts'
import { eachFileItsBrowser, served, signIn } from '../support/browser.ts'
import { comebackWorld } from '../support/comeback-world.ts'

const browser = eachFileItsBrowser()

test('a month with ten returns prints on two sheets, and its table of months is not torn', async () => {
  const t = await served()
  const w = comebackWorld(t)
  const why =
    'The contact of the lamp was green, and nobody had looked at it when the bulb was fitted, as the step does not ask for it.'
  const vehicles = Array.from({ length: 10 }, (_, nth) =>
    createVehicle(w.desk, { family: 'Corvane Haulette B', plate: `QH ${500 + nth}`, odometer_unit: 'km' }),
  )
  const earlier = vehicles.map(({ id }) => w.finish(w.openOrder({ vehicle_id: id })))
  const back = vehicles.map(({ id }) => w.later(1, { vehicle_id: id }))
  for (const [nth, later_work_order_id] of back.entries()) {
    await w.decide({ earlier_job_id: earlier[nth], later_work_order_id, borne_by: 'us', category: 'part', why })
    w.finish(later_work_order_id)
  }
  const month = new Date(t.clock.now()).toISOString().slice(0, 7)
  const marta = await signIn(browser(), t, { name: 'Marta Oake', role: 'owner' })
  await marta.goto(`/months/${month}`)
  await marta.getByText('10 confirmed').waitFor()
  const pdf = await marta.pdf({ preferCSSPageSize: true, format: 'A4' })
  expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g)).toHaveLength(2)
  await marta.emulateMedia({ media: 'print' })
  const breaks = `getComputedStyle(document.querySelector('#by-month').closest('.column')).breakInside`
  expect(await marta.evaluate(breaks)).toBe('avoid')
})
