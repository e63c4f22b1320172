import { existsSync } from 'node:fs'
import axe from 'axe-core'
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished } from 'vitest'
import { addPersonWith, preparePassword } from '../../src/accounts/service.ts'
import type { Role } from '../../src/core/vocabulary.ts'
import { type TestApp, type TestAppOptions, testApp } from './app.ts'

const BROWSERS = [process.env.CHROMIUM, '/usr/bin/chromium', '/usr/bin/chromium-browser']

/** The sizes at which every page is looked at: desk, tablet upright, telephone. */
export const SIZES = {
  desk: { width: 1280, height: 900 },
  tablet: { width: 820, height: 1180 },
  telephone: { width: 390, height: 844 },
}

/** One Chromium for the tests of a file. Without the network flags it looks for its maker's servers at every start. */
export function eachFileItsBrowser(): () => Browser {
  let browser: Browser | undefined
  beforeAll(async () => {
    const executablePath = BROWSERS.find(file => file !== undefined && existsSync(file))
    if (executablePath === undefined) throw new Error('There is no chromium; npm test says how to get one.')
    browser = await chromium.launch({
      executablePath,
      args: [
        ...['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run'],
        ...['--disable-background-networking', '--disable-component-update', '--disable-sync'],
      ],
    })
  })
  afterAll(() => browser?.close())
  return () => browser!
}

/** The real program at a real address. */
export async function served(options: TestAppOptions = {}): Promise<TestApp & { url: string }> {
  const t = await testApp(options)
  const url = await t.app.listen({ port: 0, host: '127.0.0.1' })
  onTestFinished(async () => {
    await t.close()
    expect(t.errors, 'lines at level error in the log').toEqual([])
  })
  return { ...t, url }
}

const PASSWORD = 'ropewalk-4-test'
const prepared = preparePassword(PASSWORD)

/** A browser of somebody's own, who signs in through the form. What the page complains of in its console fails the test. */
export async function signIn(
  browser: Browser,
  t: TestApp & { url: string },
  who: { name: string; role: Role },
  size: { width: number; height: number } = SIZES.desk,
): Promise<Page> {
  addPersonWith(t.system, who, await prepared)
  const context = await contextOf(browser, size, t.url)
  const page = await context.newPage()
  page.setDefaultTimeout(15_000)
  const complaints: string[] = []
  // a page that came back to be put right is an answer, not a fault
  page.on(
    'console',
    message => message.type() === 'error' && !/status of 4\d\d/.test(message.text()) && complaints.push(message.text()),
  )
  page.on('pageerror', error => complaints.push(error.message))
  onTestFinished(async () => {
    await context.close()
    expect(complaints, `complaints in the browser of ${who.name}`).toEqual([])
  })
  await signInAs(page, who.name)
  return page
}

/** Through the form; also for somebody whose session has run out. */
export async function signInAs(page: Page, name: string): Promise<void> {
  await page.goto('/login')
  await page.getByLabel('Name').fill(name)
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL(/\/(bench)?$/)
}

function contextOf(
  browser: Browser,
  viewport: { width: number; height: number },
  baseURL: string,
): Promise<BrowserContext> {
  return browser.newContext({ viewport, baseURL, hasTouch: viewport.width < 1000 })
}

/** What axe finds wrong with the page as it stands: by every rule, or by those named. */
export async function axeFaults(page: Page, rules?: string[]): Promise<string[]> {
  await page.evaluate(axe.source)
  return page.evaluate(async only => {
    const options = only === undefined ? {} : { runOnly: only }
    const result = await (globalThis as unknown as { axe: typeof axe }).axe.run(options)
    return result.violations.map(({ id, nodes }) => `${id}: ${nodes.map(node => node.target.join(' ')).join('; ')}`)
  }, rules)
}

export async function scrollsSideways(page: Page): Promise<boolean> {
  return (await page.evaluate('document.documentElement.scrollWidth > document.documentElement.clientWidth')) === true
}
