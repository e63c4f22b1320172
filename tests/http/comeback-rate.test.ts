import { describe, expect, test } from 'vitest'
import { patchSettings } from '../../src/accounts/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

interface Group {
  key: string
  jobs: number
  comebacks: number
  rate: number | null
  lower: number | null
  upper: number | null
  limit_lower: number | null
  limit_upper: number | null
  still_open: { jobs: number; comebacks: number }
}

async function rates(query: string): Promise<Group[]> {
  const t = await app()
  return (await scenario(t, { as: 'desk', get: `/api/analysis/comeback-rate?${query}`, expect: 200 })).body.groups
}

describe('GET /api/analysis/comeback-rate', () => {
  /** `jobs` of our work handed back on one day, of which the first `back` came back `after` days later. */
  function work(month: string, jobs: number, back: number, more: Record<string, string> = {}, after = 20) {
    return Array.from({ length: jobs }, (_, place) => {
      const vehicle = `${month} ${more.operation ?? ''} ${place}`
      const id = vehicle
      const row = {
        vehicle,
        family: 'Haulette',
        operation: 'Belt: renew',
        warranty_days: '90',
        comeback_of: '',
        id: '',
        component: '',
        ...more,
      }
      const came = new Date(Date.UTC(Number(month.slice(0, 4)), Number(month.slice(5, 7)) - 1, 1 + after))
        .toISOString()
        .slice(0, 10)
      return [
        { ...row, date: `${month}-01`, event: 'work', by: 'us', id },
        ...(place < back
          ? [{ ...row, date: came, event: 'failure', by: '', component: 'Bearing', comeback_of: id }]
          : []),
      ]
    }).flat()
  }

  test('counts by month, with Wilson limits and binomial limits at the rate of the twelve months before', async () => {
    const { system } = await app()
    importRows(system, [...work('2029-06', 40, 2), ...work('2030-01', 20, 3)])
    const groups = await rates('by=month&from=2029-06-01&to=2030-12-31')
    expect(groups.map(({ key, jobs, comebacks }) => [key, jobs, comebacks])).toEqual([
      ['2029-06', 40, 2],
      ['2030-01', 20, 3],
    ])
    expect(groups[0]).toMatchObject({
      rate: 0.05,
      limit_lower: null,
      limit_upper: null,
      still_open: { jobs: 0, comebacks: 0 },
    })
    // Newcombe (1998) Statistics in Medicine 17:857-872, method 3, worked out by hand: (2np + z² ± z·√(z² + 4npq)) / 2(n + z²)
    const z = 1.959963984540054
    const half = z * Math.sqrt(z * z + 4 * 20 * 0.15 * 0.85)
    expect(groups[1]?.lower).toBeCloseTo((2 * 3 + z * z - half) / (2 * (20 + z * z)), 12)
    expect(groups[1]?.upper).toBeCloseTo((2 * 3 + z * z + half) / (2 * (20 + z * z)), 12)
    // at the earlier rate of 2 in 40 the smallest x of 20 with P(X ≥ x) ≤ 0.00135 is 6: P(5) = 0.00257, P(6) = 0.00033
    expect(groups[1]).toMatchObject({ limit_lower: null, limit_upper: 6 / 20 })
  })

  test('younger jobs stand beside the rate as still open, with the comebacks among them', async () => {
    const { system } = await app()
    importRows(system, [...work('2030-10', 3, 1), ...work('2031-01', 4, 2)])
    // on 3 March 2031 the jobs of 1 January have been out 61 of 90 days
    expect(await rates('by=operation')).toMatchObject([
      { key: 'Belt: renew', jobs: 3, comebacks: 1, still_open: { jobs: 4, comebacks: 2 } },
    ])
    expect(await rates('by=operation&as_of=2031-04-01')).toMatchObject([{ jobs: 7, comebacks: 3 }])
    expect(await rates('by=operation&as_of=2031-03-31')).toMatchObject([{ jobs: 3, still_open: { jobs: 4 } }])
    expect(await rates('by=operation&as_of=2031-01-20')).toMatchObject([{ still_open: { jobs: 4, comebacks: 0 } }])
  })

  test('a comeback counts once, within the window only, and only of our own work', async () => {
    const { system } = await app()
    const base = {
      vehicle: 'V',
      family: 'F',
      operation: 'Belt: renew',
      warranty_days: '30',
      comeback_of: '',
      id: '',
      by: 'us',
    }
    importRows(system, [
      { ...base, date: '2030-01-01', event: 'work', id: 'a' },
      { ...base, date: '2030-01-10', event: 'work', comeback_of: 'a', id: 'b' },
      { ...base, date: '2030-01-20', event: 'work', comeback_of: 'a' },
      { ...base, date: '2030-03-01', event: 'work', comeback_of: 'b' },
      { ...base, date: '2030-03-01', event: 'work', by: 'other' },
      { ...base, date: '', event: 'work' },
    ])
    // four dated jobs of ours; the first came back in time (twice), the second only after 50 days
    expect(await rates('by=family')).toMatchObject([{ key: 'F', jobs: 4, comebacks: 1 }])
  })

  test('a term that a row does not state is the setting', async () => {
    const { system } = await app()
    patchSettings(system, { warranty_days: 10 }, 0)
    importRows(system, work('2031-02', 2, 2, { warranty_days: '' }))
    expect(await rates('by=operation')).toMatchObject([{ jobs: 2, comebacks: 0 }])
  })

  test('by cause the jobs are all of the period', async () => {
    // at 5 in 50 the smallest x of 10 with P(X ≥ x) ≤ 0.00135 is 6: P(5) = 0.00163, P(6) = 0.00015
    const { system } = await app()
    importRows(system, [...work('2030-01', 10, 2), ...work('2029-02', 50, 5)])
    expect(await rates('by=cause&from=2030-01-01')).toMatchObject([
      { key: '', jobs: 10, comebacks: 2, limit_upper: 6 / 10 },
    ])
    expect(await rates('by=supplier')).toEqual([])
  })

  test.each([
    ['by=day', '/by'],
    ['from=2031-13-01', '/from'],
    ['from=2031-02-01&to=2031-01-31', '/to'],
    ['limit=3', '/limit'],
  ])('?%s is refused', async (query, pointer) => {
    await scenario(await app(), {
      as: 'desk',
      get: `/api/analysis/comeback-rate?${query}`,
      expect: 422,
      fields: [pointer],
    })
  })

  test('the earliest day that can be written is no trouble', async () => {
    const { system } = await app()
    importRows(system, work('0000-01', 1, 0))
    expect(await rates('by=month&from=0000-01-01&as_of=9999-12-31')).toMatchObject([{ key: '0000-01', jobs: 1 }])
    expect(await rates('by=family&from=0000-01-01')).toMatchObject([{ limit_upper: null }])
  })
})
