import { expect, test } from 'vitest'
import { createVehicle } from '../../src/vehicles/index.ts'
import { eachFileItsBrowser, served, signIn } from '../support/browser.ts'
import { orderWorld } from '../support/order-world.ts'

const browser = eachFileItsBrowser()

test('In the house shows what somebody else has written without being asked, and keeps what is being typed', async () => {
  const t = await served()
  const w = orderWorld(t)
  const ilse = await signIn(browser(), t, { name: 'Ilse Marrok', role: 'desk' })
  const order = ilse.getByRole('row').filter({ hasText: '2031-0001' })
  await order.getByText('Taken in').waitFor()
  const box = ilse.getByRole('searchbox').first()
  await box.fill('Farr')
  w.agree(20_000)
  await order.getByText('Agreed').waitFor()
  expect(await box.inputValue()).toBe('Farr')
  expect(await ilse.evaluate('document.activeElement.name')).toBe('q')

  // whoever stands on a link keeps standing on it, and the head of the sheet counts on
  await order.getByRole('link').first().focus()
  w.openOrder({ vehicle_id: createVehicle(w.desk, { family: 'Corvane Tern', odometer_unit: 'km' }).id })
  await ilse.getByText('two vehicles').waitFor()
  expect(await ilse.evaluate('document.activeElement.textContent')).toBe('2031-0001')
})
