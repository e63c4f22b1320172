import { describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Reply, scenario } from '../support/http.ts'

/** Later than every reading of these tests. */
const app = eachTestItsApp({ nowMs: Date.UTC(2031, 11, 1) })

const VAN = { family: 'Corvane Haulette B', variant: 'long', plate: 'QH 418 TK', odometer_unit: 'km' }

const vehicle = (t: TestApp, body: object = VAN): Promise<Reply> =>
  scenario(t, { as: 'desk', post: '/api/vehicles', body, expect: 201, events: 1 })
describe('/api/vehicles/:id/odometer-readings', () => {
  async function readings(t: TestApp, ...all: [string, number, boolean?][]): Promise<Reply[]> {
    const { body } = await vehicle(t)
    const replies: Reply[] = []
    for (const [on, distance_km, display_replaced] of all) {
      const sent = { on, distance_km, ...(display_replaced && { display_replaced }) }
      replies.push(
        await scenario(t, {
          as: 'technician',
          post: `/api/vehicles/${body.id}/odometer-readings`,
          body: sent,
          expect: 201,
          events: 1,
        }),
      )
    }
    return replies
  }

  test('a reading is recorded and read back', async () => {
    const t = await app()
    const [reply] = await readings(t, ['2031-06-02', 18_204])
    expect(reply!.body).toMatchObject({ on: '2031-06-02', distance_km: 18_204, display_replaced: false, warnings: [] })
    const read = await scenario(t, { as: 'desk', get: reply!.headers.location!, expect: 200 })
    expect(read.body).toEqual(reply!.body)
  })

  test('one lower than an earlier one warns, and so does one higher than a later one', async () => {
    const t = await app()
    const [, lower, higher] = await readings(t, ['2031-06-02', 18_204], ['2031-11-04', 17_950], ['2031-05-01', 19_000])
    expect(lower!.body.warnings).toEqual([
      {
        field: 'distance_km',
        detail:
          '17\u00a0950\u00a0km is lower than the 18\u00a0204\u00a0km of 2 June 2031. Correct it, or say that the instrument was replaced.',
      },
    ])
    expect(higher!.body.warnings).toMatchObject([
      { detail: expect.stringContaining('higher than the 17\u00a0950\u00a0km of 4 November 2031') },
    ])
  })

  test('a replaced instrument explains a lower one, and counts from there', async () => {
    const t = await app()
    const [, replaced, later] = await readings(
      t,
      ['2031-06-02', 98_204],
      ['2031-07-01', 12, true],
      ['2031-11-04', 4000],
    )
    expect(replaced!.body).toMatchObject({ display_replaced: true, warnings: [] })
    expect(later!.body.warnings).toEqual([])
  })

  test('a jump against the usual usage warns', async () => {
    const t = await app()
    const [, , usual, jump] = await readings(
      t,
      ['2030-01-01', 10_000],
      ['2030-07-01', 20_000],
      ['2031-01-01', 30_000],
      ['2031-02-01', 317_000],
    )
    expect(usual!.body.warnings).toEqual([])
    expect(jump!.body.warnings).toMatchObject([
      { field: 'distance_km', detail: expect.stringContaining('287\u00a0000\u00a0km in 31 days') },
    ])
  })

  test('no reading is older than the first motor vehicle, and one ahead is taken with a warning', async () => {
    const t = await app()
    const { body } = await vehicle(t)
    const post = `/api/vehicles/${body.id}/odometer-readings`
    for (const on of ['0000-01-01', '1884-12-31']) {
      const reply = await scenario(t, { as: 'desk', post, body: { on, distance_km: 1 }, expect: 422, fields: ['/on'] })
      expect(reply.body.detail).toContain('No motor vehicle ran before 1885.')
    }
    await scenario(t, { as: 'desk', post, body: { on: '1885-01-01', distance_km: 1 }, expect: 201 })
    const ahead = await scenario(t, { as: 'desk', post, body: { on: '2031-12-02', distance_km: 2 }, expect: 201 })
    expect(ahead.body.warnings).toEqual([{ field: 'on', detail: '2 December 2031 has not come yet. Correct the day.' }])
    const registered = { ...VAN, first_registered_on: '0026-01-01' }
    await scenario(t, {
      ...{ as: 'desk', post: '/api/vehicles', body: registered, expect: 422, fields: ['/first_registered_on'] },
    })
  })

  test('bad input, wrong role and unknown vehicle', async () => {
    const t = await app()
    const { body } = await vehicle(t)
    const post = `/api/vehicles/${body.id}/odometer-readings`
    await scenario(t, {
      as: 'desk',
      post,
      body: { on: 'today', distance_km: -1 },
      expect: 422,
      fields: ['/on', '/distance_km'],
    })
    const good = { on: '2031-11-04', distance_km: 1 }
    await scenario(t, { as: 'desk', post: '/api/vehicles/none/odometer-readings', body: good, expect: 404 })
    await scenario(t, { as: 'desk', get: '/api/vehicles/none/odometer-readings', expect: 404 })
    await scenario(t, { as: 'desk', get: `${post}/none`, expect: 404 })
  })
})
