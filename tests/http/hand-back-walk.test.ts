import fc from 'fast-check'
import { beforeEach, expect, test } from 'vitest'
import { handBack, voidJobSafely } from '../../src/hand-back/index.ts'
import { Problem } from '../../src/platform/problems.ts'
import { type Job, planOfOrder, putToolIn, takeToolOut } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

/** One thing that somebody might do; `aim` 0 is the sensible place for it, anything else is off by so much. */
const doing = fc.record({
  do: fc.constantFrom(
    'open',
    'open',
    'close',
    'close',
    'tool in',
    'tool out',
    'tool out',
    'finish',
    'void',
    'hand back',
  ),
  job: fc.nat(1),
  aim: fc.constantFrom(0, 0, 0, 0, 1, 2),
})

test('no sequence of doings closes a step over something, or hands a vehicle back with something in it', () => {
  let [closings, handBacks] = [0, 0]
  fc.assert(
    fc.property(fc.array(doing, { minLength: 30, maxLength: 30 }), doings => {
      const order = w.openOrder()
      const jobs = [w.add('boot', order), w.add('bearing', order)]
      w.agree(100_000, order)
      const act = (what: string, job: Job, aim: number) => {
        const { steps, jobs: rows } = planOfOrder(t.system, order)
        const inner = steps.filter(step => step.is_open).length
        const at = (place: number) => steps[Math.max(0, Math.min(3, place))]!.access_step_id
        if (what === 'open') w.open(jobs[1]!, at(inner + aim))
        else if (what === 'close') w.close(jobs[1]!, at(inner - 1 - aim))
        else if (what === 'tool in')
          putToolIn(w.technician, job.id, { tool: 'Plug', ...(aim < 2 && { before_step_id: at(inner - 1 + aim) }) })
        else if (what === 'tool out') {
          const tool = rows.flatMap(row => row.tools_in).find(row => row.removed_at === null)
          if (tool !== undefined) takeToolOut(w.technician, tool.id, {})
        } else if (what === 'void') voidJobSafely(w.desk, jobs[aim === 0 ? 0 : 1]!.id, { reason: 'Not wanted' })
        else if (what === 'hand back') handBack(w.desk, order, {})
        else {
          for (const joint of job.joints) w.finishJoint(joint.id)
          for (const look of job.looks) w.lookFine(look.id)
          for (const check of job.final_checks) w.checkFine(check.id)
        }
        if (what === 'close') closings += 1
        if (what === 'hand back') handBacks += 1
      }
      for (const each of doings) {
        try {
          act(each.do, jobs[each.job]!, each.aim)
        } catch (error) {
          if (!(error instanceof Problem)) throw error
        }
        expect(whatIsWrong(order), JSON.stringify(each)).toEqual([])
      }
    }),
    { numRuns: 15, seed: 2031 },
  )
  expect(closings, 'steps that were really closed').toBeGreaterThan(10)
  expect(handBacks, 'vehicles that were really handed back').toBeGreaterThan(2)
})

/** Read from the tables alone, by other means than the program's: what lies closed over something, or left the house with it. */
function whatIsWrong(order: string): unknown[] {
  const { raw } = t.deps.store
  const steps = raw
    .prepare(
      `select s.access_step_id id, s.needs,
        (select count(*) from step_openings o join job_steps x on x.id = o.job_step_id join jobs y on y.id = x.job_id
          where y.work_order_id = j.work_order_id and x.access_step_id = s.access_step_id) opened,
        (select count(*) from step_closings c join job_steps x on x.id = c.job_step_id join jobs y on y.id = x.job_id
          where y.work_order_id = j.work_order_id and x.access_step_id = s.access_step_id) closed
      from job_steps s join jobs j on j.id = s.job_id where j.work_order_id = ? group by s.access_step_id`,
    )
    .all(order) as { id: string; needs: string; opened: number; closed: number }[]
  const tools = raw
    .prepare(
      `select i.before_step_id before from tools_in i join jobs j on j.id = i.job_id where j.work_order_id = ?
        and not exists (select 1 from tool_removals r where r.tool_in_id = i.id)`,
    )
    .all(order) as { before: string | null }[]
  const hasLeft = raw.prepare('select 1 from hand_backs where work_order_id = ?').get(order) !== undefined
  const isOpen = (step: { opened: number; closed: number }) => step.opened > step.closed
  const outerOf = (id: string): typeof steps => {
    const step = steps.find(each => each.id === id)!
    return [step, ...(JSON.parse(step.needs) as string[]).flatMap(outerOf)]
  }
  return [
    ...steps.filter(step => step.opened - step.closed > 1 || step.closed > step.opened),
    ...steps.filter(step => isOpen(step) && !outerOf(step.id).every(isOpen)),
    ...tools.filter(({ before }) => before !== null && outerOf(before).some(step => step.opened > 0 && !isOpen(step))),
    ...(hasLeft ? [...tools, ...steps.filter(isOpen)] : []),
  ]
}
