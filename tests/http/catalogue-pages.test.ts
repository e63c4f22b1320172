import { describe, expect, test } from 'vitest'
import {
  allAccessSteps,
  allComponents,
  allOperations,
  allSymptoms,
  createAccessStep,
  createComponent,
  createProcedure,
  createSymptom,
} from '../../src/catalogue/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { TYPED_REVISION } from '../support/revision-form.ts'

const app = eachTestItsApp()

const bearing = (t: TestApp, name = 'Rear wheel bearing') =>
  createComponent(t.system, { name, severity: 'safety', causes: [], check_minutes: 15, access_step_ids: [] })
const step = (t: TestApp, name: string, needs: string[] = []) =>
  createAccessStep(t.system, { name, hours: 1, needs, exposes: [], disturbs: [] })

describe('/catalogue', () => {
  test('everybody reads it; what only the owner may do is not offered to others', async () => {
    const t = await app()
    bearing(t)
    const technician = await page(t, '/catalogue', t.cookie('technician'))
    expect(technician).toContain('Rear wheel bearing')
    expect(technician).not.toContain('/edit')
    expect(technician).toContain('/catalogue/symptoms/new')
    expect(await page(t, '/catalogue', t.cookie('owner'))).toContain('/catalogue/operations/new')
    for (const what of ['operations', 'access-steps', 'components', 'procedures']) {
      await page(t, `/catalogue/${what}/new`, t.cookie('technician'), 403)
      await page(
        t,
        `/catalogue/${what}/none/${what === 'procedures' ? 'revisions/new' : 'edit'}`,
        t.cookie('owner'),
        404,
      )
    }
  })

  test('anybody adds a symptom', async () => {
    const t = await app()
    await fillIn(t, t.cookie('desk'), '/catalogue/symptoms/new', { name: 'Hums' })
    expect(allSymptoms(t.system)).toMatchObject([{ name: 'Hums' }])
    const taken = await fillIn(t, t.cookie('desk'), '/catalogue/symptoms/new', { name: 'HUMS' })
    expect(taken.reply.statusCode).toBe(409)
    expect(taken.reply.body).toContain('<a href="#name">')
  })
})

describe('strip-down steps and components', () => {
  test('a step is added with what it needs, exposes and disturbs, and put right', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    bearing(t)
    const wheel = step(t, 'Wheel off')
    const added = await fillIn(t, cookie, '/catalogue/access-steps/new', {
      name: 'Hub off',
      hours: '1,5',
      needs: wheel.id,
      exposes: 'Rear wheel bearing',
    })
    expect(added.reply.statusCode).toBe(303)
    const [hub] = allAccessSteps(t.system)
    expect(hub).toMatchObject({
      name: 'Hub off',
      hours: 1.5,
      needs: [wheel.id],
      exposes: ['Rear wheel bearing'],
      disturbs: [],
    })
    const edit = await fillIn(t, cookie, `/catalogue/access-steps/${wheel.id}/edit`, { needs: hub!.id })
    expect(edit.reply.statusCode).toBe(422)
    expect(edit.reply.body).toContain('<a href="#needs">')
    expect(await page(t, `/catalogue/access-steps/${wheel.id}/edit`, cookie)).not.toContain(`value="${wheel.id}"`)
  })

  test('a component is added with its symptoms and put right', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    createSymptom(t.system, { name: 'Hums' })
    const typed = {
      name: 'Hub seal',
      severity: 'breakdown',
      causes: 'Hums',
      check_minutes: '5',
      makes_safe: 'true',
      remedy_part_minor: '12.50',
    }
    expect((await fillIn(t, cookie, '/catalogue/components/new', typed)).reply.statusCode).toBe(303)
    const [made] = allComponents(t.system)
    expect(made).toMatchObject({ causes: ['Hums'], check_minutes: 5, makes_safe: true, remedy_part_minor: 1250 })
    const { reply } = await fillIn(t, cookie, `/catalogue/components/${made!.id}/edit`, {
      severity: 'nuisance',
      remedy_part_minor: '',
    })
    expect(reply.statusCode).toBe(303)
    expect(allComponents(t.system)).toMatchObject([
      { severity: 'nuisance', causes: ['Hums'], makes_safe: true, version: 2 },
    ])
    expect(allComponents(t.system)[0]).not.toHaveProperty('remedy_part_minor')
    const bad = await fillIn(t, cookie, '/catalogue/components/new', { name: 'x' })
    expect(bad.reply.body).toContain('<a href="#severity">')
    expect(bad.reply.body).toContain('<a href="#check-minutes">')
  })
})

describe('operations', () => {
  test('an operation is added with steps, joints, looks and checks, and put right', async () => {
    const t = await app()
    const cookie = t.cookie('owner')
    bearing(t)
    const wheel = step(t, 'Wheel off')
    const hub = step(t, 'Hub off', [wheel.id])
    const { id: procedureId } = createProcedure(t.system, { name: 'Hub bolts' })
    await fillIn(t, cookie, `/catalogue/procedures/${procedureId}/revisions/new`, TYPED_REVISION)
    const typed = {
      name: 'Wheel bearing: renew',
      hours: '2',
      access_step_ids: hub.id,
      'joints[0][name]': 'Hub bolts',
      'joints[0][procedure_id]': procedureId,
      'joints[0][behind_step_id]': wheel.id,
      'looks[1][component]': 'Rear wheel bearing',
      'looks[1][severity]': 'safety',
      'looks[1][minutes]': '3',
      final_checks: ['Runs without noise', ''],
      'marks[0][text]': 'Flange to hub marked',
      'marks[0][before_step_id]': hub.id,
      'tools[0][tool]': 'Holding plate',
      'tools[0][count]': '2',
      'tools[0][before_step_id]': wheel.id,
      turns_engine: 'true',
    }
    const { reply } = await fillIn(t, cookie, '/catalogue/operations/new', typed)
    expect(reply.statusCode).toBe(303)
    const [made] = allOperations(t.system)
    expect(made).toMatchObject({
      hours: 2,
      access_step_ids: [hub.id],
      joints: [{ name: 'Hub bolts', procedure_id: procedureId, behind_step_id: wheel.id }],
      looks: [{ component: 'Rear wheel bearing', severity: 'safety', minutes: 3 }],
      final_checks: ['Runs without noise'],
      marks: [{ text: 'Flange to hub marked', before_step_id: hub.id }],
      tools: [{ tool: 'Holding plate', count: 2, before_step_id: wheel.id }],
      ...{ turns_engine: true, sound_before_after: false },
    })
    expect(await page(t, '/catalogue', cookie)).toContain('turns the engine')
    const url = `/catalogue/operations/${made!.id}/edit`
    const edited = await fillIn(t, cookie, url, {
      final_checks: ['Runs without noise', 'Holds 80 km/h'],
      'joints[0][name]': '',
      'joints[0][procedure_id]': '',
      'joints[0][behind_step_id]': '',
      'marks[0][text]': '',
      'marks[0][before_step_id]': '',
      sound_before_after: 'true',
    })
    expect(edited.reply.statusCode).toBe(303)
    expect(allOperations(t.system)).toMatchObject([
      { joints: [], final_checks: ['Runs without noise', 'Holds 80 km/h'], version: 2 },
    ])
    expect(allOperations(t.system)).toMatchObject([
      { marks: [], tools: [{ tool: 'Holding plate' }], turns_engine: true, sound_before_after: true },
    ])
  })

  test('half a row is put right where it stands', async () => {
    const t = await app()
    const { reply } = await fillIn(t, t.cookie('owner'), '/catalogue/operations/new', {
      name: 'x',
      hours: 'two',
      'joints[1][name]': 'Hub bolts',
    })
    expect(reply.statusCode).toBe(422)
    for (const id of ['hours', 'joints-0-procedure-id']) {
      expect(reply.body).toContain(`<a href="#${id}">`)
      expect(reply.body).toContain(`id="${id}"`)
    }
    expect(reply.body).toContain('value="Hub bolts"')
  })
})
