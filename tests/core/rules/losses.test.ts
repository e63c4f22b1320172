import { expect, test } from 'vitest'
import { losses } from '../../../src/comebacks/rules/losses.ts'

const opened = (id: string, more: object = {}) => ({
  ...{ id, work_order_id: 'o1', step: `Step ${id}`, hours: 0.3, reason: 'Plug left off', at: 1000 },
  ...more,
})

test('steps that one mistake opened again on one order are one loss; its cost is their hours at the cost rate', () => {
  // by hand: 0.3 + 0.4 = 0.7 h × 40.05 an hour = 28.035, rounded half away from zero: 28.04
  expect(losses([opened('1'), opened('2', { hours: 0.4, reason: ' plug left off', at: 2000 })], 4005)).toEqual([
    {
      ...{ id: '1', work_order_id: 'o1', reason: 'Plug left off', at: 1000, hours: 0.7, labour_minor: 2804 },
      steps: ['Step 1', 'Step 2'],
    },
  ])
})

test('another order, another reason and no reason are losses of their own', () => {
  const ids = (list: Parameters<typeof losses>[0]) => losses(list, 4000).map(loss => loss.id)
  const others = [opened('2', { work_order_id: 'o2' }), opened('3', { reason: 'Hose' }), opened('4', { reason: null })]
  expect(ids([opened('1'), ...others, opened('5', { reason: null })])).toEqual(['1', '2', '3', '4'])
  expect(losses([], 4000)).toEqual([])
})
