import type { Page } from 'playwright-core'
import { describe, expect, test } from 'vitest'
import { recordCalibration, registerGauge, registerWrench } from '../../src/tools/index.ts'
import { axeFaults, eachFileItsBrowser, SIZES, served, signIn } from '../support/browser.ts'
import { jointWith } from '../support/joints.ts'
import { orderWorld } from '../support/order-world.ts'

const browser = eachFileItsBrowser()

const tap = (page: Page, name: string | RegExp) => page.getByRole('button', { name }).first().tap()
const says = (page: Page, text: string | RegExp) => page.getByText(text).first().waitFor()

/** A van with a joint of four bolts on which safety hangs: 25 N·m, then 90°; a wrench that clicks, and an angle gauge. */
async function atTheBench() {
  const t = await served()
  const w = orderWorld(t)
  const click = registerWrench(w.owner, { name: 'W-03', kind: 'clicks', min_nm: 5, max_nm: 60, scale_division_nm: 0.5 })
  recordCalibration(w.owner, click.id, {
    made_on: '2031-01-20',
    certificate: 'K-120',
    found: 'good',
    points: [{ at_nm: 25, uncertainty_nm: 0.4 }],
  })
  registerGauge(w.owner, { name: 'G-02', kind: 'angle_gauge', uncertainty_deg: 1 })
  const joint = jointWith(t, w, { count: 4, reuse: 'free', severity: 'safety', on_failure: 'restart' })
  return { t, w, joint, address: `/bench/joints/${joint}` }
}

/** A page that was loaded anew has lost what a script wrote down in it. */
const staysLoaded = (page: Page) => page.evaluate('globalThis.loadedOnce = true')
const wasLoadedAnew = async (page: Page) => (await page.evaluate('globalThis.loadedOnce')) !== true

/** What somebody sees without scrolling. */
async function isInView(page: Page, selector: string): Promise<boolean> {
  const box = await page.locator(selector).first().boundingBox()
  return box !== null && box.y >= 0 && box.y + box.height <= page.viewportSize()!.height
}

describe.each([
  ['a tablet', SIZES.tablet],
  ['a telephone', SIZES.telephone],
])('a joint at the bench on %s', (_, size) => {
  test('by taps alone: out of turn, a whole stage but one, left, taken up by another, signed by two', async () => {
    const { t, address } = await atTheBench()
    const tobin = await signIn(browser(), t, { name: 'Tobin Rask', role: 'technician' }, size)
    // as the job card leads there: target and button need no scrolling
    await tobin.goto(`${address}#now`)
    await staysLoaded(tobin)
    await says(tobin, 'Fastener 1, stage 1 of 2')
    for (const seen of ['.target-torque', '.at-hand .main-action'])
      expect(await isInView(tobin, seen), `${seen} in view`).toBe(true)

    // another fastener than the next asks why; nothing is chosen for anybody
    await tobin.locator('svg a[href*="position=3"]').first().tap()
    await says(tobin, 'It is not this one’s turn. Why now?')
    expect(await tobin.locator('input[name=out_of_order_reason]:checked').count()).toBe(0)
    await tobin.getByLabel('The next one cannot be reached yet').tap()
    await tap(tobin, /record fastener 2|^Record fastener 2/)
    await says(tobin, 'Fastener 1, stage 1 of 2')
    await says(tobin, 'The next one cannot be reached yet')

    // the wrench that clicks: the whole stage as set, but for one that slipped
    if ((await tobin.getByRole('link', { name: 'Whole stage as set' }).count()) === 0) {
      await tobin.getByRole('row', { name: /W-03/ }).getByRole('link', { name: 'take this one' }).tap()
      await says(tobin, 'set the wrench to this')
    }
    await tobin.getByRole('link', { name: 'Whole stage as set' }).tap()
    await says(tobin, 'Stage 1 of 2, as set')
    await tobin.getByLabel('Fastener 4').selectOption('slipped')
    await tap(tobin, /The others clicked/)
    await says(tobin, /Stage 1: 2 recorded as set/)
    await says(tobin, /Fastener 4 slipped at stage 1/)

    // fastener 4 is dealt with, then the angles; the next one needs no scrolling
    await staysLoaded(tobin)
    await tap(tobin, /record fastener 4/i)
    await says(tobin, 'Fastener 1, stage 2 of 2')
    for (const [value, next] of [
      ['90,5', 'Fastener 2, stage 2 of 2'],
      ['89.5', 'Fastener 3, stage 2 of 2'],
    ] as const) {
      await tobin.getByLabel('What the gauge shows').fill(value)
      await tap(tobin, /^Record fastener/)
      await says(tobin, next)
      for (const seen of ['.target-torque', '#value', '.at-hand .main-action'])
        expect(await isInView(tobin, seen), `${seen} in view`).toBe(true)
    }
    expect(await tobin.evaluate('document.activeElement.id')).toBe('value')
    expect(await wasLoadedAnew(tobin), 'no page was loaded').toBe(false)

    // left half way in one tap; whoever comes next sees where and why
    await tobin.getByText('Leave it here', { exact: true }).tap()
    await tap(tobin, 'Called away')
    await says(tobin, 'Left half way by Tobin Rask')
    const wen = await signIn(browser(), t, { name: 'Wen Adeyo', role: 'technician' }, size)
    await wen.goto(address)
    await says(wen, /Tobin Rask stopped at fastener 3, stage 2, on .*: Called away\./)
    expect(await axeFaults(wen)).toEqual([])
    await tap(wen, 'Carry on')
    await says(wen, 'Fastener 3, stage 2 of 2')
    await wen.getByLabel('What the gauge shows').fill('90')
    await tap(wen, /^Record fastener 3/)
    await says(wen, 'Fastener 4, stage 2 of 2')

    // reload and the browser's button stay right
    await wen.reload()
    await says(wen, 'Fastener 4, stage 2 of 2')
    await wen.getByLabel('What the gauge shows').fill('90')
    await tap(wen, /^Record fastener 4/)
    await tap(wen, 'Sign off')
    await wen.waitForURL(/\/bench\/jobs\//)
    await wen.goBack()
    await says(wen, 'Second person')
    expect(await wen.getByRole('button', { name: 'Sign as second person' }).count(), 'not the same person').toBe(0)

    // who tightened any of it may not look; a third person ticks three times and signs
    const third = await signIn(browser(), t, { name: 'Ilse Marrok', role: 'technician' }, size)
    await third.goto(address)
    await says(third, /Tightened by Tobin Rask and Wen Adeyo/)
    await says(third, /Not plain: fastener 4, stage 1/)
    for (const look of ['Marks: every head', 'Count: 4 fasteners', 'Stripe: each crosses'])
      await third.getByLabel(look).tap()
    await tap(third, 'Sign as second person')
    await third.waitForURL(/\/bench\/jobs\//)
    await says(third, 'Test flange: signed.')
  })
})

describe('the script of the bench', () => {
  test('what it cannot send the browser sends, once', async () => {
    const { t, w, address } = await atTheBench()
    const page = await signIn(browser(), t, { name: 'Tobin Rask', role: 'technician' }, SIZES.tablet)
    await page.goto(`${address}?wrench_id=${w.wrench}`)
    // something between answers in the place of the program
    const nothing = { status: 200, contentType: 'text/html', body: '<p>Nothing to see here.</p>' }
    await page.route('**/bench/joints/**', route =>
      route.request().resourceType() === 'fetch' ? route.fulfill(nothing) : route.continue(),
    )
    await page.getByLabel('What the wrench shows').fill('25.2')
    await tap(page, 'Record fastener 1')
    await says(page, 'Fastener 2, stage 1 of 2')
    await page.unroute('**/bench/joints/**')
    // sent, but the answer is lost on the way: the browser sends it again, and it was recorded once
    await page.route('**/bench/joints/**', async route => {
      if (route.request().resourceType() !== 'fetch') return route.continue()
      await route.fetch({ maxRedirects: 0 })
      return route.fulfill(nothing)
    })
    await page.getByLabel('What the wrench shows').fill('25.4')
    await tap(page, 'Record fastener 2')
    await says(page, 'Fastener 3, stage 1 of 2')
    await page.unroute('**/bench/joints/**')
    await page.goto(`${address}?records=all`)
    expect(await page.getByText('25.4 N·m: conforms').count()).toBe(2)
  })

  test('nothing that was typed is lost: not by a fault, nor beside another form; a double tap records once', async () => {
    const { t, w, address } = await atTheBench()
    const page = await signIn(browser(), t, { name: 'Tobin Rask', role: 'technician' }, SIZES.tablet)
    await page.goto(`${address}?wrench_id=${w.wrench}`)
    await staysLoaded(page)
    await page.getByLabel('What the wrench shows').fill('25 lbf')
    await tap(page, 'Record fastener 1')
    await page.locator('.error-summary').waitFor()
    expect(await page.getByLabel('What the wrench shows').inputValue()).toBe('25 lbf')
    expect(await page.evaluate('document.activeElement.className')).toBe('error-summary')
    await page.getByLabel('What the wrench shows').fill('25.1')
    await page.locator('svg a[href*="position=2"]').first().tap()
    await says(page, 'It is not this one’s turn. Why now?')
    await page.goBack()
    await says(page, 'Fastener 1, stage 1 of 2')
    expect(await wasLoadedAnew(page)).toBe(false)
    await page.getByLabel('What the wrench shows').fill('25.1')
    await page.getByRole('button', { name: 'Record fastener 1' }).dblclick()
    await says(page, 'Fastener 2, stage 1 of 2')
    await page.getByText('Leave it here', { exact: true }).tap()
    await page.getByLabel('Or why, in your own words').fill('The part is the wrong')
    await page.getByLabel('What the wrench shows').fill('25.3')
    await tap(page, 'Record fastener 2')
    await says(page, 'Fastener 3, stage 1 of 2')
    expect(await page.getByLabel('Or why, in your own words').inputValue()).toBe('The part is the wrong')
    await page.goto(`${address}?records=all`)
    expect(await page.getByText('25.1 N·m: conforms').count(), 'twice tapped, once recorded').toBe(1)
  })

  test('what does not count is said above the next fastener and covers nothing; done again it is gone on with', async () => {
    const { t, w, joint, address } = await atTheBench()
    for (const position of [1, 2]) w.tighten(joint, position)
    const page = await signIn(browser(), t, { name: 'Tobin Rask', role: 'technician' }, SIZES.telephone)
    await page.goto(`${address}?wrench_id=${w.wrench}#now`)
    await page.getByLabel('What the wrench shows').fill('36')
    await tap(page, 'Record fastener 2')
    await says(page, 'Fastener 2, stage 1: 36 N·m, recorded as outside its limits.')
    const [notice, target] = await Promise.all(
      ['.notice', '.target-torque'].map(each => page.locator(each).boundingBox()),
    )
    expect(notice!.y + notice!.height).toBeLessThanOrEqual(target!.y)
    await page.getByRole('link', { name: 'Deal with no. 2' }).tap()
    await says(page, 'Fastener 2, stage 1 of 2')
    expect(await page.getByText('It is not this one’s turn').count()).toBe(0)
  })

  test('back to a form that was refused shows it as it was typed, and sends nothing', async () => {
    const { t, w, joint, address } = await atTheBench()
    w.tighten(joint, 1)
    const page = await signIn(browser(), t, { name: 'Tobin Rask', role: 'technician' }, SIZES.tablet)
    await page.goto(address)
    await page.getByRole('link', { name: 'Put it right' }).tap()
    await page.getByLabel('What it was').fill('24.4')
    await tap(page, 'Put the reading right')
    await page.locator('.error-summary').waitFor()
    await page.getByRole('link', { name: 'Leave it as it is' }).tap()
    await says(page, /Fastener \d, stage 1 of 2/)
    await page.goBack()
    await page.locator('.error-summary').waitFor()
    expect(await page.getByLabel('What it was').inputValue()).toBe('24.4')
  })
})
