import { expect, test } from 'vitest'
import type { Role } from '../../src/core/vocabulary.ts'
import { eachTestItsApp } from '../support/app.ts'
import { scenario } from '../support/http.ts'

const app = eachTestItsApp()
const DAY = 86_400_000

test('from customer to comeback decision through the API alone, with tokens of three roles', async () => {
  const t = await app()
  const post = async (as: Role, path: string, body: object = {}, more: object = {}) =>
    (await scenario(t, { as, post: `/api/${path}`, body, expect: 201, ...more })).body
  const get = async (as: Role, path: string) => (await scenario(t, { as, get: `/api/${path}`, expect: 200 })).body
  const now = () => new Date(t.clock.now()).toISOString()

  // the desk takes a vehicle in; the order creates the symptom that nobody has named before
  const customer = await post('desk', 'customers', { name: 'Bodil Farrow', phone: '0555 014 220' })
  const vehicle = await post('desk', 'vehicles', {
    ...{ family: 'Corvane Haulette B', plate: 'QH 418 TK', odometer_unit: 'km', keeper_id: customer.id },
  })
  const takeIn = (complaint: string, odometer_km: number) =>
    post('desk', 'work-orders', {
      ...{ vehicle_id: vehicle.id, customer_id: customer.id, complaint, odometer_km },
      ...{ symptoms: ['Noise from a wheel'], arrived: 'runs' },
    })
  const order = await takeIn('It hums from the back.', 140_300)
  expect(order).toMatchObject({ state: 'taken_in', flags: [], total_minor: 0, agreed_minor: 0 })

  // the owner keeps the catalogue
  await post('owner', 'components', {
    ...{
      name: 'Rear wheel bearing',
      severity: 'safety',
      causes: ['Noise from a wheel'],
      check_minutes: 12,
      access_step_ids: [],
    },
  })
  const step = await post('owner', 'access-steps', {
    ...{ name: 'Hub carrier out', hours: 1.1, needs: [], exposes: [], disturbs: ['Rear wheel bearing'] },
  })
  const procedure = await post('owner', 'procedures', { name: 'CH-B-RH' })
  await post('owner', `procedures/${procedure.id}/revisions`, {
    ...{ layout: 'circle', count: 2, reuse: 'after_inspection', severity: 'safety', on_failure: 'restart' },
    stages: [
      { kind: 'torque', target: 50, lower: 46, upper: 54 },
      { kind: 'angle', target: 45, lower: 40, upper: 50 },
    ],
    source: 'Invented maker’s manual, page 212',
  })
  const operation = await post('owner', 'operations', {
    ...{
      name: 'Final drive belt: renew',
      hours: 0.5,
      access_step_ids: [step.id],
      warranty_days: 180,
      warranty_km: 20_000,
    },
    joints: [{ name: 'Drive flange', procedure_id: procedure.id, behind_step_id: step.id }],
    looks: [{ component: 'Rear wheel bearing', severity: 'safety', behind_step_id: step.id, minutes: 5 }],
    final_checks: ['Road test above forty'],
  })
  const wrench = await post('owner', 'wrenches', { name: 'W-11', kind: 'measures', min_nm: 20, max_nm: 100 })
  await post('technician', `wrenches/${wrench.id}/calibrations`, {
    ...{ made_on: '2031-01-15', certificate: 'K-118', found: 'good', points: [{ at_nm: 50, uncertainty_nm: 0.8 }] },
  })

  // agree: 1.6 h at 60.00 and 20 % tax are 115.20
  const job = await post('desk', `work-orders/${order.id}/jobs`, { operation_id: operation.id })
  const estimate = await post('desk', `work-orders/${order.id}/estimates`, {
    lines: [
      {
        kind: 'labour',
        job_id: job.id,
        text: 'Final drive belt: renew',
        quantity: 1.6,
        unit_minor: 6000,
        tax_bp: 2000,
      },
    ],
  })
  expect(estimate).toMatchObject({ version: 1, net_minor: 9600, gross_minor: 11_520 })
  await post('desk', `work-orders/${order.id}/authorisations`, {
    ...{
      estimate_id: estimate.id,
      amount_minor: 11_520,
      includes_tax: true,
      said_by: 'Bodil Farrow',
      how: 'phone',
      at: now(),
    },
  })
  await post('desk', `work-orders/${order.id}/talks`, {
    with: 'Bodil Farrow',
    how: 'telephone',
    said: 'The price, read back.',
  })
  expect((await get('desk', `work-orders/${order.id}`)).state).toBe('agreed')

  // do: open, look, put a tool in, tighten with one reading outside that is done again, two people sign
  const [jobStep] = job.steps
  await post('technician', `jobs/${job.id}/steps/${jobStep.id}/openings`, { at: now() })
  await post('technician', `looks/${job.looks[0].id}/result`, { fine: true })
  const tool = await post('technician', `jobs/${job.id}/tools-in`, {
    tool: 'holding plate',
    before_step_id: step.id,
    at: now(),
  })
  const joint = job.joints[0].id
  const record = (position: number, stage: number, value: number) =>
    post('technician', `joints/${joint}/torque-records`, {
      ...{ position, stage, fastener: 1, value, unit: stage === 1 ? 'N.m' : 'deg', basis: 'measured', made_at: now() },
      ...(stage === 1 && { wrench_id: wrench.id }),
    })
  for (const position of [1, 2]) expect((await record(position, 1, 50)).verdict).toBe('conforms')
  expect((await record(1, 2, 45)).verdict).toBe('conforms')
  expect((await record(2, 2, 58)).verdict).toBe('outside')
  const sign = (as: Role, signingAs: string, more: object = {}) =>
    post(as, `joints/${joint}/sign-offs`, { as: signingAs }, more)
  await sign('technician', 'technician', { expect: 409, problem: 'joint-incomplete' })
  await record(2, 1, 50)
  await record(2, 2, 45)
  await post('technician', `joints/${joint}/fastener-inspections`, { fit: true })
  await sign('technician', 'technician')
  const closing = `jobs/${job.id}/steps/${jobStep.id}/closings`
  const refused = await post('technician', closing, { at: now() }, { expect: 409, problem: 'step-blocked' })
  expect(refused.blockers.map((blocker: { reason: string }) => blocker.reason)).toEqual(['tool_in', 'joint_unsigned'])
  await sign('owner', 'second_person')
  await post('technician', `tools-in/${tool.id}/removal`, { at: now() })
  await post('technician', closing, { at: now() })
  await post('technician', `final-checks/${job.final_checks[0].id}/result`, { fine: true })
  expect(await get('desk', `work-orders/${order.id}`)).toMatchObject({
    state: 'ready',
    blockers: [],
    total_minor: 11_520,
  })

  // prove: handed back with an invoice and a warranty
  const handBack = await post('desk', `work-orders/${order.id}/hand-back`, { odometer_km: 140_310 })
  expect(handBack.invoice).toMatchObject({ number: '2031-0001', gross_minor: 11_520 })
  expect(handBack.warranties).toEqual([{ job_id: job.id, until_on: '2031-08-30', until_km: 160_310 }])

  // forty days later it hums again
  t.clock.set(t.clock.now() + 40 * DAY)
  const again = await takeIn('The same hum again.', 143_720)
  expect(again.flags.map((flag: { reason: string }) => flag.reason)).toContain('suspected_comeback')
  const finding = await post('technician', 'findings', {
    ...{
      vehicle_id: vehicle.id,
      component: 'Rear wheel bearing',
      failure_mode: 'noisy',
      severity: 'safety',
      found_on: '2031-04-12',
    },
    ...{ symptom: 'Noise from a wheel', caused_by: { job_id: job.id }, advice: 'not_on_the_road' },
  })
  expect(finding.caused_by).toEqual({ job_id: job.id })
  const { items } = await get('owner', 'suspicions')
  expect(items).toHaveLength(1)
  expect(items[0]).toMatchObject({ earlier_job_id: job.id, later_work_order_id: again.id })
  expect(items[0].reasons).toEqual(expect.arrayContaining(['same_symptom', 'disturbed']))

  // learn: the owner decides, and the rate has it
  const decision = {
    ...{
      earlier_job_id: job.id,
      later_work_order_id: again.id,
      decision: 'confirmed',
      category: 'assembly_or_alignment',
      borne_by: 'us',
    },
    ...{ why: 'The belt was set too tight.', root_cause: ['The bearing wore', 'The belt was set too tight'] },
  }
  await post('desk', 'comeback-decisions', decision, { expect: 403 })
  await post('owner', 'comeback-decisions', decision)
  expect((await get('owner', 'suspicions')).items).toEqual([])
  const rate = await get('owner', 'analysis/comeback-rate?by=operation&from=2031-01-01&to=2031-12-31')
  expect(rate.groups[0]).toMatchObject({ key: 'Final drive belt: renew', still_open: { jobs: 1, comebacks: 1 } })
  expect(
    (await get('owner', `vehicles/${vehicle.id}/history`)).events.map((event: { event: string }) => event.event),
  ).toContain('work')
})
