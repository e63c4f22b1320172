import { expect } from 'vitest'
import type { TestApp } from './app.ts'
import { formFields, sendForm } from './http.ts'

/** A page as HTML, after looking at its status. */
export async function page(t: TestApp, url: string, cookie: string, status = 200): Promise<string> {
  const reply = await t.app.inject({ url, headers: { cookie } })
  expect(reply.statusCode, `${url} ${reply.body.slice(0, 800)}`).toBe(status)
  return reply.body
}

/**
 * Opens a page, fills in its form for `action` as a person does (what is not named stays as it is shown) and sends it.
 * `fields` is what was sent, to send it again.
 */
export async function fillIn(
  t: TestApp,
  cookie: string,
  action: string,
  typed: Record<string, string | string[]>,
  asked = action,
) {
  const shown = formFields(await page(t, asked, cookie), action)
  const fields: [string, string][] = Object.entries({ ...shown, ...typed }).flatMap(([name, value]) =>
    [value].flat().map((each): [string, string] => [name, each]),
  )
  return { reply: await sendForm(t, action, cookie, fields), fields }
}
