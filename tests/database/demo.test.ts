import fs from 'node:fs'
import { expect, test } from 'vitest'
import { DEMO_PASSWORD } from '../../seed/people.ts'
import { serve } from '../support/command-line.ts'
import { temporaryFolder } from '../support/database.ts'

test('demo serves five pages to whom it says, and leaves nothing behind', { timeout: 180_000 }, async () => {
  const [folder, TMPDIR] = [temporaryFolder(), temporaryFolder()]
  const served = await serve(folder, ['demo', '--port', '0'], { TMPDIR })
  const url = served.line
  const login = await fetch(`${url}/login`, {
    method: 'POST',
    body: new URLSearchParams({ name: 'Tobin Rask', password: DEMO_PASSWORD, next: '/' }),
    headers: { origin: url },
    redirect: 'manual',
  })
  expect(login.status).toBe(303)
  const cookie = login.headers
    .getSetCookie()
    .map(text => text.split(';')[0])
    .join('; ')
  const printed = served.printed()
  expect(printed).toContain('Tobin Rask (technician)')
  expect(printed).toContain(DEMO_PASSWORD)
  const pages = [...printed.matchAll(/^(http\S+\/\S*) {2}\S/gm)].map(match => match[1]!)
  expect(pages).toHaveLength(5)
  const answers = await Promise.all(pages.map(page => fetch(page, { headers: { cookie }, redirect: 'manual' })))
  expect(answers.map(answer => `${answer.url} ${answer.status}`)).toEqual(pages.map(page => `${page} 200`))
  const demosOwn = () => fs.readdirSync(TMPDIR).filter(name => name.startsWith('witness-mark-demo-'))
  expect(demosOwn()).toHaveLength(1)
  expect(await served.stop()).toMatchObject({ code: 0 })
  expect([demosOwn(), fs.readdirSync(folder)]).toEqual([[], []])
})
