import { describe, expect, test } from 'vitest'
import { actionWorked, workedWords } from '../../../src/comebacks/rules/action-worked.ts'
import type { RatedJob } from '../../../src/comebacks/rules/comeback-rate.ts'

const ASKED = {
  operations: new Set(['Belt: renew']),
  categories: new Set(['tightening']),
  done_on: '2031-06-01',
  asOf: '2032-01-01',
}

/** Jobs of one day, of which the first so many came back after five days. */
function jobs(on: string, count: number, comebacks: number, more: Partial<RatedJob> = {}): RatedJob[] {
  return Array.from({ length: count }, (_, nth) => ({
    handed_back_on: on,
    window_days: 90,
    operation: 'Belt: renew',
    family: 'Corvane Haulette B',
    suppliers: [],
    comeback: nth < comebacks ? { on: `${on.slice(0, 8)}28`, category: 'tightening' } : null,
    ...more,
  }))
}

describe('whether a corrective action worked', () => {
  test('compares jobs before with jobs from its day on, those that have been out for their window', () => {
    const worked = actionWorked(
      [...jobs('2031-03-02', 4, 2), ...jobs('2031-06-01', 6, 0), ...jobs('2031-12-02', 3, 1)],
      ASKED,
    )
    expect(worked).toMatchObject({
      before: { jobs: 4, comebacks: 2, rate: 0.5 },
      after: { jobs: 6, comebacks: 0, rate: 0 },
      still_open: { jobs: 3, comebacks: 1 },
      ratio: 0,
      lower: 0,
      returned: 1,
      says: 'cannot_tell',
    })
    // b = 0 of 2 with chance 6ψ/(6ψ + 4): mid-P 0.5·(4/(6ψ + 4))² = 0.025, so ψ = (4/6)(√20 − 1)
    expect(worked.upper).toBeCloseTo((4 / 6) * (Math.sqrt(20) - 1), 9)
    expect(workedWords(worked)).toBe(
      'Before it 2 of 4 jobs came back for this cause, since then 0 of 6 jobs: too few to tell yet. Of 3 jobs since, still within the window and not counted yet, 1 has come back for it. The cause has returned on 1 job since: it is open again.',
    )
  })

  test('says that the comeback it was made for is one whose window was open still', () => {
    // handed back 61 days ago, watched for 90
    const worked = actionWorked([...jobs('2031-03-02', 12, 0), ...jobs('2031-05-02', 5, 1)], {
      ...ASKED,
      asOf: '2031-07-02',
    })
    expect(worked).toMatchObject({ before: { jobs: 12, comebacks: 0 }, open_before: { jobs: 5, comebacks: 1 } })
    expect(workedWords(worked)).toContain(
      'Of 5 jobs before it, still within the window and not counted yet, 1 has come back for it.',
    )
  })

  test('leaves out other operations, and comebacks of another cause', () => {
    const worked = actionWorked(
      [
        ...jobs('2031-03-02', 2, 2, { operation: 'Bulb: renew' }),
        ...jobs('2031-03-02', 2, 2, { operation: null }),
        ...jobs('2031-03-02', 3, 3, { comeback: { on: '2031-03-20', category: 'wear' } }),
      ],
      ASKED,
    )
    expect(worked.before).toMatchObject({ jobs: 3, comebacks: 0 })
    expect(actionWorked(jobs('2031-03-02', 2, 2, { operation: null }), { ...ASKED, operations: null }).before).toEqual(
      expect.objectContaining({ jobs: 2, comebacks: 2 }),
    )
  })

  test('says fewer or more only where chance would not explain it', () => {
    const fewer = actionWorked([...jobs('2031-03-02', 40, 12), ...jobs('2031-07-02', 40, 1)], ASKED)
    expect(fewer.says).toBe('fewer')
    expect(fewer.ratio).toBeCloseTo(1 / 12, 12)
    expect(fewer.upper).toBeLessThan(1)
    const more = actionWorked([...jobs('2031-03-02', 40, 1), ...jobs('2031-07-02', 40, 12)], ASKED)
    expect(more.says).toBe('more')
  })

  test('without a job on a side there is nothing to compare', () => {
    for (const only of [[], jobs('2031-03-02', 4, 2), jobs('2031-07-02', 4, 2)]) {
      expect(actionWorked(only, ASKED)).toMatchObject({ ratio: null, lower: null, upper: null, says: 'cannot_tell' })
    }
    expect(workedWords(actionWorked([], ASKED))).toBe(
      'No job before it has been out long enough to count, since then no job has been out long enough to count: too few to tell yet.',
    )
  })
})
