import { describe, expect, test } from 'vitest'
import { byUrgency, isOverdue, waitsFor } from '../../../src/take-in/rules/waiting.ts'

describe('waitsFor', () => {
  const job = { letter: 'A', task: 'Hub seal: replace', done: false }
  const blocker = (reason: string, sentence = 'The look at the brake hose is not done.') => ({ reason, sentence })

  test('names what comes next', () => {
    const waits = (
      state: Parameters<typeof waitsFor>[0]['state'],
      blockers: ReturnType<typeof blocker>[] = [],
      jobs = [job],
      awaited: Parameters<typeof waitsFor>[0]['awaited'] = [],
    ) => waitsFor({ state, jobs, blockers, awaited, today: '2031-11-04' })
    expect(waits('taken_in', [], [])).toBe('a job: none is written down yet')
    expect(waits('taken_in', [blocker('no_yes'), blocker('look_missing')])).toBe('the customer’s yes')
    expect(waits('in_work', [blocker('look_missing'), blocker('above_agreed')])).toBe(
      'the customer’s yes to more than was agreed',
    )
    expect(waits('agreed')).toBe('the work to begin')
    expect(waits('in_work', [blocker('look_missing'), blocker('step_open')])).toBe(
      'the work: the look at the brake hose is not done, and 1 more',
    )
    expect(waits('in_work')).toBe('the work: job A, hub seal: replace, is not done')
    expect(waits('ready', [], [{ ...job, done: true }])).toBe('being fetched')
    const belt = { what: 'The drive belt', from_whom: 'Fen Bearings', expected_on: '2031-11-06' }
    expect(waits('agreed', [], [job], [belt])).toBe('the drive belt from Fen Bearings, expected on 6 November 2031')
    expect(waits('in_work', [], [job], [{ what: 'The crank' }, belt])).toBe('the crank, and 1 thing more')
    expect(waits('agreed', [], [job], [{ ...belt, expected_on: '2031-11-03' }])).toBe(
      'the drive belt from Fen Bearings, which was expected on 3 November 2031 and is not here',
    )
    expect(waits('taken_in', [blocker('no_yes')], [job], [belt])).toBe('the customer’s yes')
  })

  test('overdue first, then as promised, then those without a promise, oldest first', () => {
    const stay = (promised_on: string | null, taken_in: number, overdue = false) => ({ promised_on, taken_in, overdue })
    const [none, newer, soon, late] = [stay(null, 1), stay(null, 2), stay('2031-11-05', 9), stay('2031-11-01', 8)]
    const part = stay(null, 9, true)
    expect(isOverdue('2031-11-04', [], '2031-11-04')).toBe(false)
    expect(isOverdue('2031-11-03', [], '2031-11-04')).toBe(true)
    expect(isOverdue(null, [{ what: 'x', expected_on: '2031-11-03' }], '2031-11-04')).toBe(true)
    expect(byUrgency([newer, soon, part])).toEqual([part, soon, newer])
    expect(byUrgency([newer, none, soon, late])).toEqual([late, soon, none, newer])
  })
})
