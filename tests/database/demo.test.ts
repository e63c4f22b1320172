import fs from 'node:fs'
import os from 'node:os'
import { expect, test } from 'vitest'
import { DEMO_PASSWORD } from '../../seed/people.ts'
import { serve } from '../support/command-line.ts'
import { temporaryFolder } from '../support/database.ts'

const demoFolders = () => fs.readdirSync(os.tmpdir()).filter(name => name.startsWith('witness-mark-demo-'))

test('demo serves five pages to whom it says, and leaves nothing behind', { timeout: 180_000 }, async () => {
  const before = demoFolders()
  const folder = temporaryFolder()
  const served = await serve(folder, ['demo', '--port', '0'])
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
  expect(await served.stop()).toMatchObject({ code: 0 })
  expect(demoFolders().filter(name => !before.includes(name))).toEqual([])
  expect(fs.readdirSync(folder)).toEqual([])
})
