import { expect, test } from 'vitest'
import { eachTestItsApp } from '../support/app.ts'
import { comebackWorld } from '../support/comeback-world.ts'
import { page } from '../support/forms.ts'

const app = eachTestItsApp()

test('/comebacks shows the ten newest decisions and leads to the older ones', async () => {
  const t = await app()
  const w = comebackWorld(t)
  const earlier_job_id = w.finish(w.order)
  for (let stay = 1; stay <= 12; stay += 1)
    await w.decide({ earlier_job_id, later_work_order_id: w.later(1), why: `Stay number ${stay}.`, borne_by: 'us' })
  const cookie = t.cookie('owner')
  const numbers = (html: string) => [...html.matchAll(/Stay number (\d+)\./g)].map(([, stay]) => Number(stay))
  const newest = await page(t, '/comebacks', cookie)
  expect(numbers(newest)).toEqual([12, 11, 10, 9, 8, 7, 6, 5, 4, 3])
  const older = /href="([^"]+)" rel="next">Older<\/a>/.exec(newest)![1]!.replaceAll('&#x3D;', '=')
  const rest = await page(t, older, cookie)
  expect(numbers(rest)).toEqual([2, 1])
  expect(rest).not.toContain('>Older</a>')
  // what acts on a row is marked as such, so that the style sheet can make it as high as a finger
  expect(newest).toMatch(/<a class="acts" href="\/comebacks\/[^"]+">change<\/a>/)
})
