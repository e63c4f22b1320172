import { describe, expect, test } from 'vitest'
import type { SharedStep } from '../../../src/work-orders/rules/shared-steps.ts'
import { outBefore, toolsAtJoint } from '../../../src/work-orders/rules/tools-inside.ts'

const step = (id: string, needs: string[], more: Partial<SharedStep> = {}): SharedStep => ({
  ...{ access_step_id: id, name: `${id} off`, hours: 1, needs, job_ids: ['job'], job_step_ids: [] },
  ...{ times_opened: 1, is_open: true, opened_at: 1, closed_at: null },
  ...more,
})
/** Guard over cover over wheel, and a door that has nothing to do with them. */
const STEPS = [step('guard', []), step('cover', ['guard']), step('wheel', ['cover']), step('door', [])]
const tool = (before_step_id: string | null, removed_at: number | null = null) => ({ before_step_id, removed_at })
const at = (tools: ReturnType<typeof tool>[], joint: object, steps = STEPS) => {
  const { closed_in, beside } = toolsAtJoint(
    { jobs: [{ tools_in: tools }], steps },
    { job_id: 'job', behind_step_id: null, ...joint },
  )
  return [closed_in.length, beside.length]
}

describe('tools at a joint', () => {
  test.each([
    ['outside the step', { behind_step_id: 'guard' }, [1, 0]],
    ['behind the very step: what it holds, or what covers it', { behind_step_id: 'cover' }, [0, 1]],
    ['deeper than the step', { behind_step_id: 'wheel' }, [0, 0]],
    ['behind a step beside it', { behind_step_id: 'door' }, [0, 0]],
    ['behind none, on a job that opens the step', {}, [1, 0]],
    ['behind none, on a job that opens nothing of it', { job_id: 'another' }, [0, 0]],
  ])('one that must be out before the cover is closed, and a joint %s', (_, joint, counts) => {
    expect(at([tool('cover')], joint)).toEqual(counts)
    expect(at([tool('cover', 5)], joint)).toEqual([0, 0])
  })

  test('one that names no step may lie behind any that is open', () => {
    expect(at([tool(null)], { behind_step_id: 'guard' })).toEqual([1, 0])
    expect(at([tool(null)], { behind_step_id: 'wheel' })).toEqual([0, 1])
    const onlyGuard = STEPS.map(each => ({ ...each, is_open: each.access_step_id === 'guard' }))
    expect(at([tool(null)], { behind_step_id: 'guard' }, onlyGuard)).toEqual([0, 1])
    const allClosed = STEPS.map(each => ({ ...each, is_open: false }))
    expect(at([tool(null)], {}, allClosed)).toEqual([0, 0])
  })
})

test('what a tool must come out before, in words', () => {
  expect(outBefore(tool('cover'), STEPS)).toBe('"cover off" is closed')
  expect(outBefore(tool(null), STEPS)).toBe('any open step is closed')
  expect(outBefore(tool(null), [])).toBe('the vehicle leaves')
})
