import { expect, test } from 'vitest'
import { createCustomer, createVehicle } from '../../src/vehicles/index.ts'
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

test('the one box finds as it is typed, with the keyboard alone; a scanner opens the record', async () => {
  const t = await served()
  const w = orderWorld(t)
  const other = createCustomer(w.desk, { name: 'Bodil Marsh' }).id
  createVehicle(w.desk, { family: 'Corvane Tern', plate: 'QH 901 CH', odometer_unit: 'km', keeper_id: other })
  const ilse = await signIn(browser(), t, { name: 'Ilse Marrok', role: 'desk' })
  await ilse.getByRole('searchbox').focus()
  await ilse.keyboard.type('bodil')
  await ilse.getByText('Found with “bodil”').waitFor()
  await ilse.getByText('Bodil Farrow: not ready yet').waitFor()
  await ilse.getByText('QH 901 CH').waitFor()
  await ilse.keyboard.type(' marhs')
  await ilse.getByText('Enter opens QH 901 CH').waitFor()
  await ilse.keyboard.press('Enter')
  await ilse.waitForURL(/\/vehicles\//)
  expect(await ilse.getByRole('heading', { level: 1 }).textContent()).toBe('QH 901 CH')

  // a scanner types faster than anybody and sends Enter by itself
  await ilse.goto('/take-in')
  // the browser gives the box its focus with the first drawing of the page, which may come after the page has loaded
  await ilse.locator('[name=q]:focus').waitFor()
  await ilse.keyboard.insertText('QH418TK')
  await ilse.keyboard.press('Enter')
  await ilse.waitForURL(/\/take-in\?vehicle=|\/work-orders\//)
})
