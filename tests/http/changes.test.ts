import { expect, test } from 'vitest'
import { createCustomer } from '../../src/vehicles/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { served } from '../support/browser.ts'

const app = eachTestItsApp()

test('the line of changes is for whoever is signed in', async () => {
  const t = await app()
  const answer = await t.app.inject({ url: '/changes' })
  expect([answer.statusCode, answer.headers.location]).toEqual([303, '/login?next=%2Fchanges'])
})

test('it says "changed" after a write and nothing while nobody writes, and ends with the one who listens', async () => {
  const t = await served()
  const left = new AbortController()
  const answer = await fetch(`${t.url}/changes`, { headers: { cookie: t.cookie('desk') }, signal: left.signal })
  expect(answer.headers.get('content-type')).toBe('text/event-stream')
  const reader = answer.body!.pipeThrough(new TextDecoderStream()).getReader()
  expect((await reader.read()).value).toBe(': here\n\n')
  const next = reader.read()
  const quiet = new Promise(resolve => setTimeout(resolve, 900, 'quiet'))
  expect(await Promise.race([next.then(({ value }) => value), quiet])).toBe('quiet')
  createCustomer(t.system, { name: 'Bodil Farrow' })
  expect((await next).value).toBe('data: changed\n\n')
  left.abort()
})
