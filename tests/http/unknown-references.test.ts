import { beforeEach, describe, expect, test } from 'vitest'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type Scenario, scenario } from '../support/http.ts'
import { jointWith, reading } from '../support/joints.ts'
import { type OrderWorld, orderWorld } from '../support/order-world.ts'

/** Every reference of one body that names nothing stands in one problem, so that one answer tells all there is to mend. */
const app = eachTestItsApp()
let t: TestApp
let w: OrderWorld

beforeEach(async () => {
  t = await app()
  w = orderWorld(t)
})

const refused = async (as: Scenario['as'], url: string, body: object, fields: string[]) => {
  const reply = await scenario(t, { as, post: `/api/${url}`, body, expect: 422, problem: 'invalid-input', fields })
  for (const { detail } of reply.body.errors) expect(reply.body.detail).toContain(detail)
}

describe('references that name nothing are named together', () => {
  test('of a work order, and a correct one is taken', async () => {
    const body = { vehicle_id: 'x', customer_id: 'y', complaint: 'It hums.', symptoms: ['Hum'], arrived: 'runs' }
    await refused('desk', 'work-orders', body, ['/vehicle_id', '/customer_id'])
    await scenario(t, {
      ...{ as: 'desk', post: '/api/work-orders', expect: 201, events: 2 },
      body: { ...body, vehicle_id: w.vehicle, customer_id: w.customer, odometer_km: 143_725 },
    })
  })

  test('of a job, its parts, its tools and an estimate', async () => {
    const job = w.add('bearing').id
    const body = { operation_id: 'x', settles_finding_id: 'y' }
    await refused('desk', `work-orders/${w.order}/jobs`, body, ['/operation_id', '/settles_finding_id'])
    const part = { quantity: 1, condition: 'new', cost_minor: 1, price_minor: 1 }
    const unknown = { part_id: 'x', supplier_id: 'y', joint_id: 'z' }
    await refused('desk', `jobs/${job}/part-lines`, { ...part, ...unknown }, ['/part_id', '/supplier_id', '/joint_id'])
    const tool = { tool: 'Tray', for_step_id: 'x', before_step_id: 'y', job_tool_id: 'z' }
    await refused('technician', `jobs/${job}/tools-in`, tool, ['/for_step_id', '/before_step_id', '/job_tool_id'])
    const line = { kind: 'part', text: 'Bearing', quantity: 1, unit_minor: 100, tax_bp: 0 }
    await refused(
      'desk',
      `work-orders/${w.order}/estimates`,
      { lines: [{ ...line, job_id: 'x', part_id: 'x' }, line, { ...line, part_id: 'y' }], discount_minor: 301 },
      ['/lines/0/job_id', '/lines/0/part_id', '/lines/2/part_id', '/discount_minor'],
    )
  })

  test('of the catalogue', async () => {
    const step = {
      name: 'Cover off',
      hours: 1,
      needs: ['x'],
      exposes: ['No such'],
      disturbs: ['Brake hose', 'Nor this'],
    }
    await refused('owner', 'access-steps', step, ['/needs/0', '/exposes/0', '/disturbs/1'])
    const component = {
      ...{ name: 'Drain', severity: 'nuisance', check_minutes: 1, remedy_operation_id: 'x' },
      ...{ causes: ['Drip'], access_step_ids: ['x'], not_before: ['No such'] },
    }
    const fields = ['/causes/0', '/access_step_ids/0', '/not_before/0', '/remedy_operation_id']
    await refused('owner', 'components', component, fields)
    const operation = {
      ...{ name: 'Drain: clean', hours: 1, access_step_ids: ['x'], final_checks: [] },
      joints: [{ name: 'Plug', procedure_id: 'x', behind_step_id: 'x' }],
      looks: [{ component: 'No such', severity: 'nuisance', minutes: 1 }],
    }
    // whether a joint may be behind a step is judged once the strip-down is known
    const named = ['/access_step_ids/0', '/joints/0/procedure_id', '/looks/0/component']
    await refused('owner', 'operations', operation, named)
  })

  test('of a finding and what is left for later', async () => {
    const finding = {
      component: 'Hub seal',
      severity: 'nuisance',
      found_on: '2031-03-03',
      vehicle_id: 'x',
      job_id: 'y',
    }
    await refused('technician', 'findings', { ...finding, caused_by: { prior_work_id: 'z' } }, [
      '/vehicle_id',
      '/job_id',
      '/caused_by/prior_work_id',
    ])
    const later = { vehicle_id: 'x', finding_id: 'y', text: 'Seal weeps' }
    await refused('desk', 'left-for-later', later, ['/vehicle_id', '/finding_id'])
  })

  test('of a torque record and of a whole stage as set', async () => {
    const joint = jointWith(t, w)
    const nothing = { wrench_id: 'x', adapter_id: 'y', supersedes: 'z', reason: 'Misread' }
    await refused('technician', `joints/${joint}/torque-records`, reading(w, 1, 1, 25, nothing), [
      '/wrench_id',
      '/adapter_id',
      '/supersedes',
    ])
    const exception = { position: 2, value: 25, unit: 'N.m', basis: 'measured', wrench_id: 'x', adapter_id: 'y' }
    await refused(
      'technician',
      `joints/${joint}/stages-as-set`,
      { stage: 1, wrench_id: 'x', adapter_id: 'y', exceptions: [exception] },
      ['/wrench_id', '/adapter_id', '/exceptions/0/wrench_id', '/exceptions/0/adapter_id'],
    )
  })

  test('of a comeback decision', async () => {
    const body = {
      earlier_job_id: 'x',
      later_work_order_id: 'y',
      decision: 'ruled_out',
      why: 'Another',
      root_cause: [],
    }
    await refused('owner', 'comeback-decisions', body, ['/earlier_job_id', '/later_work_order_id'])
  })

  test('of the analyses', async () => {
    await refused('desk', 'analysis/first-checks', { symptom: 'x', family: 'y' }, ['/symptom', '/family'])
    await refused('desk', 'analysis/while-open', { family: 'x', operations: ['y', 'z'] }, [
      '/family',
      '/operations/0',
      '/operations/1',
    ])
    const asked = async (query: string, fields: string[]) =>
      scenario(t, { as: 'desk', get: `/api/analysis/${query}`, expect: 422, fields })
    await asked('season?symptom=x&component=y', ['/symptom', '/component'])
    await asked('recurrence?component=x&failure_mode=y&family=z&compare_family=v', [
      '/component',
      '/failure_mode',
      '/family',
      '/compare_family',
    ])
  })
})
