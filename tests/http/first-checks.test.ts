import { describe, expect, test } from 'vitest'
import { createAccessStep, createComponent } from '../../src/catalogue/index.ts'
import { eachTestItsApp } from '../support/app.ts'
import { importRows } from '../support/histories.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()

async function post(path: string, body: unknown, expected = 200, fields?: string[]) {
  const t = await app()
  return (
    await scenario(t, {
      as: 'technician',
      post: `/api/analysis/${path}`,
      body,
      key: null,
      expect: expected,
      ...(fields && { fields }),
    })
  ).body
}

describe('POST /api/analysis/first-checks with chances of your own', () => {
  test('without strip-down the greatest chance per minute comes first (Kadane and Simon 1977)', async () => {
    const checks = [
      { id: 'likely', chance: 0.5, minutes: 30 },
      { id: 'quick', chance: 0.3, minutes: 5 },
      { id: 'seldom', chance: 0.2, minutes: 10 },
    ]
    const answer = await post('first-checks', { checks, steps: [] })
    expect(answer.order).toEqual(['quick', 'seldom', 'likely'])
    expect(answer.expected_minutes).toBeCloseTo(0.3 * 5 + 0.2 * 15 + 0.5 * 45, 12)
    expect(answer.expected_minutes_most_likely_first).toBeCloseTo(0.5 * 30 + 0.3 * 35 + 0.2 * 45, 12)
    expect(answer.checks).toEqual(checks.map(check => ({ ...check, n: null, of: null })))
    expect(answer.is_best).toBe(true)
  })

  test('a check behind strip-down waits for it; what makes safe comes before all', async () => {
    const answer = await post('first-checks', {
      checks: [
        { id: 'inside', chance: 0.6, minutes: 5, behind: 'hub' },
        { id: 'outside', chance: 0.2, minutes: 10 },
        { id: 'fuel shut', chance: 0, minutes: 2, makes_safe: true },
        { id: 'last', chance: 0.2, minutes: 1, not_before: ['inside'] },
      ],
      steps: [
        { id: 'wheel', minutes: 18, needs: [] },
        { id: 'hub', minutes: 60, needs: ['wheel'] },
      ],
    })
    expect(answer.sequence.map((item: { id: string; ends_at: number }) => [item.id, item.ends_at])).toEqual([
      ['fuel shut', 2],
      ['outside', 12],
      ['wheel', 30],
      ['hub', 90],
      ['inside', 95],
      ['last', 96],
    ])
  })

  const check = (more: object) => ({ checks: [{ id: 'a', chance: 0.5, minutes: 1, ...more }], steps: [] })
  test.each<[body: object, ...pointers: string[]]>([
    [check({ chance: 1.5 }), '/checks/0/chance'],
    [check({ minutes: -1 }), '/checks/0/minutes'],
    [check({ behind: 'nothing' }), '/checks/0/behind'],
    [check({ not_before: ['b'] }), '/checks/0/not_before/0'],
    [check({ not_before: ['a'] }), '/checks/0/not_before'],
    [{ checks: [], steps: [{ id: 's', minutes: 1, needs: ['t'] }] }, '/steps/0/needs/0'],
    [
      { checks: [{ id: 'a', chance: 0.1, minutes: 1, behind: 's' }], steps: [{ id: 's', minutes: 1, needs: ['s'] }] },
      '/steps/0/needs',
    ],
    [
      {
        checks: [
          { id: 'a', chance: 0.1, minutes: 1 },
          { id: 'a', chance: 0.1, minutes: 1 },
        ],
        steps: [],
      },
      '/checks/1/id',
    ],
    [
      {
        checks: [
          { id: 'a', chance: 0.6, minutes: 1 },
          { id: 'b', chance: 0.6, minutes: 1 },
        ],
        steps: [],
      },
      '/checks',
    ],
    [{ symptom: 'Nothing', family: 'None' }, '/symptom', '/family'],
    [{ symptom: 'Nothing', family: 'None', season_month: 13 }, '/season_month'],
  ])('%j is refused', async (body, ...pointers) => {
    await post('first-checks', body, 422, pointers)
  })

  test.each([
    [[['s', 's']], '/steps/0/needs', '“s” needs “s”: so'],
    [
      [
        ['alone', ''],
        ['hub', 'wheel'],
        ['wheel', 'guard'],
        ['guard', 'hub'],
      ],
      '/steps/1/needs',
      '“hub” needs “wheel”, “wheel” needs “guard”, “guard” needs “hub”: so',
    ],
  ])(
    'steps that need themselves are refused and named, also when no check is behind them: %j',
    async (needs, pointer, words) => {
      const steps = needs.map(([id, need]) => ({ id, minutes: 1, needs: need === '' ? [] : [need] }))
      const checks = [{ id: 'a', chance: 0.5, minutes: 1 }]
      const refused = await post('first-checks', { checks, steps }, 422, [pointer])
      expect(refused.detail).toContain(words)
    },
  )

  test('checks that wait for each other are refused and named', async () => {
    const checks = ['a', 'b'].map((id, at) => ({ id, chance: 0.1, minutes: 1, not_before: [at === 0 ? 'b' : 'a'] }))
    const refused = await post('first-checks', { checks, steps: [] }, 422, ['/checks/0/not_before'])
    expect(refused.detail).toContain('“a” waits for “b”, “b” waits for “a”: so')
  })

  test('nothing to check is no trouble, and a body of neither kind is refused', async () => {
    expect(await post('first-checks', { checks: [], steps: [] })).toMatchObject({ order: [], expected_minutes: 0 })
    await post('first-checks', {}, 422)
    await post('first-checks', '"nothing"', 422)
  })
})

describe('POST /api/analysis/first-checks by symptom', () => {
  test('counts shrink from season and family to the symptom, and the checks go through the strip-down', async () => {
    const t = await app()
    const owner = t.as('owner')
    const failure = (family: string, component: string, date: string, place: number) => ({
      vehicle: `${family} ${place}`,
      family,
      date,
      event: 'failure',
      component,
      symptom: 'Hum',
    })
    importRows(t.system, [
      failure('Haulette', 'Bearing', '2030-01-10', 1),
      failure('Haulette', 'Bearing', '2030-02-10', 2),
      failure('Haulette', 'Tyre', '2030-07-10', 3),
      failure('Tramp', 'Tyre', '2030-07-10', 1),
    ])
    const { id: bearing } = t.system.store.raw.prepare("select id from components where name = 'Bearing'").get() as {
      id: string
    }
    const { id: tyre } = t.system.store.raw.prepare("select id from components where name = 'Tyre'").get() as {
      id: string
    }
    const trim = createComponent(owner, {
      name: 'Trim',
      severity: 'nuisance',
      causes: ['Hum'],
      check_minutes: 4,
      access_step_ids: [],
    }).id
    const plain = await post('first-checks', { symptom: 'Hum', family: 'Haulette' })
    // equal: 1/3 each; the symptom: 2, 2 and 0 of 4; the family: 2, 1 and 0 of 3
    const level = (n: number, total: number, parent: number) => (n + 4 * parent) / (total + 4)
    const chance = {
      [bearing]: level(2, 3, level(2, 4, 1 / 3)),
      [tyre]: level(1, 3, level(2, 4, 1 / 3)),
      [trim]: level(0, 3, level(0, 4, 1 / 3)),
    }
    for (const one of plain.checks) expect(one.chance).toBeCloseTo(chance[one.id]!, 12)
    expect(
      plain.checks.map((one: { component: string; n: number; of: number }) => [one.component, one.n, one.of]),
    ).toEqual([
      ['Bearing', 2, 3],
      ['Trim', 0, 3],
      ['Tyre', 1, 3],
    ])
    const winter = await post('first-checks', { symptom: 'Hum', family: 'Haulette', season_month: 1 })
    const inWinter = winter.checks.find((one: { id: string }) => one.id === bearing)
    expect(inWinter).toMatchObject({ n: 2, of: 2 })
    expect(inWinter.chance).toBeCloseTo(level(2, 2, chance[bearing]!), 12)
    // December's neighbours are November and January
    const december = await post('first-checks', { symptom: 'Hum', family: 'Haulette', season_month: 12 })
    expect(december.checks.find((one: { id: string }) => one.id === bearing)).toMatchObject({ n: 1, of: 1 })
    // chance per minute: trim takes 4 minutes, the others the 15 of a check of which nobody has said more
    expect(plain.order).toEqual([bearing, tyre, trim])
    const step = createAccessStep(owner, {
      name: 'Wheel off',
      hours: 0.3,
      needs: [],
      exposes: ['Bearing'],
      disturbs: [],
    }).id
    const { headers } = await scenario(t, { as: 'owner', get: `/api/components/${bearing}`, expect: 200 })
    await scenario(t, {
      as: 'owner',
      patch: `/api/components/${bearing}`,
      body: { access_step_ids: [step], check_minutes: 12 },
      ifMatch: headers.etag ?? '',
      expect: 200,
    })
    const behind = await post('first-checks', { symptom: 'Hum', family: 'Haulette' })
    expect(behind.sequence.map((item: { name: string; ends_at: number }) => [item.name, item.ends_at])).toEqual([
      ['Tyre', 15],
      ['Trim', 19],
      ['Wheel off', 37],
      ['Bearing', 49],
    ])
  })
})
