import { beforeEach, describe, expect, test } from 'vitest'
import { allComponents, allOperations, allSymptoms } from '../../src/catalogue/index.ts'
import { findingsOn, priorWorksOf } from '../../src/findings/index.ts'
import { allFamilies, allVariants, vehicleById } from '../../src/vehicles/index.ts'
import { workOrderById } from '../../src/work-orders/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { fillIn } from '../support/forms.ts'
import { formFields, scenario, sendForm } from '../support/http.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let cookie: string

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  cookie = t.cookie('desk')
})

const names = (records: { name: string }[]) => records.map(({ name }) => name)
const add = (typed: Record<string, string>) => fillIn(t, cookie, '/vehicles/new', typed)
/** Sends the form that came back as it is shown, with something chosen. */
const again = (html: string, action: string, typed: Record<string, string>) =>
  sendForm(t, action, cookie, Object.entries({ ...formFields(html, action), ...typed }))

describe('a name that nobody has used', () => {
  test('is asked about, with the near names, and nothing is written; what was typed is kept', async () => {
    const events = t.eventCount()
    const { reply } = await add({ family: 'Corvane Hualette B', plate: 'QH 9' })
    expect(reply.statusCode).toBe(422)
    expect(reply.body).toContain(
      'There is no family “Corvane Hualette B” yet. Did you mean one of these, or is it a new one?',
    )
    expect(reply.body).toContain('value="known Corvane Haulette B"')
    expect(reply.body).toContain('value="new Corvane Hualette B"')
    expect(reply.body).toContain('value="Corvane Hualette B"')
    expect(reply.body).toContain('value="QH 9"')
    expect([t.eventCount(), names(allFamilies(t.system))]).toEqual([events, ['Corvane Haulette B']])
    const unanswered = await again(reply.body, '/vehicles/new', {})
    expect([unanswered.statusCode, t.eventCount()]).toEqual([422, events])
  })

  test('is taken as the near one that is chosen', async () => {
    const { reply } = await add({ family: 'Corvane Hualette B', plate: 'QH 9' })
    const taken = await again(reply.body, '/vehicles/new', { '_name family': 'known Corvane Haulette B' })
    const vehicle = vehicleById(t.system, String(taken.headers.location).split('/').at(-1)!)
    expect([vehicle.family, vehicle.plate, names(allFamilies(t.system))]).toEqual([
      ...['Corvane Haulette B', 'QH 9', ['Corvane Haulette B']],
    ])
  })

  test('is made once somebody calls it new, and is not asked about again on the way there', async () => {
    const { reply } = await add({ family: 'Ardeck 650', first_registered_on: '2031-02-30' })
    expect(reply.body).not.toContain('There is no family')
    const asked = await again(reply.body, '/vehicles/new', { first_registered_on: '2030-02-28', variant: 'short' })
    expect(asked.body).toContain('There is no family “Ardeck 650” yet. Is it a new one?')
    const wrong = await again(asked.body, '/vehicles/new', {
      '_name family': 'new Ardeck 650',
      first_registered_on: 'spring',
    })
    expect(wrong.statusCode).toBe(422)
    expect(wrong.body).toContain('<input type="hidden" name="_new" value="Ardeck 650">')
    const taken = await again(wrong.body, '/vehicles/new', { first_registered_on: '2030-02-28' })
    expect(taken.statusCode).toBe(303)
    expect(names(allFamilies(t.system))).toEqual(['Ardeck 650', 'Corvane Haulette B'])
    expect(names(allVariants(t.system))).toEqual(['short'])
  })

  test('calling one name new does not let another pass', async () => {
    const { reply } = await add({ family: 'Ardeck 650' })
    const other = await again(reply.body, '/vehicles/new', { '_name family': 'new Ardeck 650', family: 'Ardeck 560' })
    expect(other.statusCode).toBe(422)
    expect(other.body).toContain('There is no family “Ardeck 560” yet.')
  })

  test('one that differs in case and blanks only is the known one', async () => {
    expect((await add({ family: 'corvane  haulette b' })).reply.statusCode).toBe(303)
    expect(names(allFamilies(t.system))).toEqual(['Corvane Haulette B'])
  })

  test('is asked about on every form that makes one: symptom, operation, component', async () => {
    const edit = `/work-orders/${w.order}/edit`
    const symptom = await fillIn(t, cookie, edit, { 'symptoms[1]': 'Hum form the rear' })
    expect(symptom.reply.body).toContain('There is no symptom “Hum form the rear” yet.')
    const put = await again(symptom.reply.body, edit, { '_name symptoms[1]': 'known Hum from the rear' })
    expect(put.statusCode).toBe(303)
    expect(workOrderById(t.system, w.order).symptoms).toEqual(['Hum from the rear'])
    expect(names(allSymptoms(t.system))).toEqual(['Hum from the rear'])

    const before = `/vehicles/${w.vehicle}/prior-work`
    const work = await fillIn(t, cookie, before, { operation: 'Rear lamp blub: replace', by: 'owner' })
    expect(work.reply.body).toContain('value="known Rear lamp bulb: replace"')
    await again(work.reply.body, before, { '_name operation': 'known Rear lamp bulb: replace' })
    expect(names(priorWorksOf(t.system, w.vehicle).map(({ operation }) => ({ name: operation })))).toEqual([
      'Rear lamp bulb: replace',
    ])
    expect(allOperations(t.system)).toHaveLength(3)

    cookie = t.cookie('technician')
    const job = w.add('bulb')
    const finding = `/bench/jobs/${job.id}/finding`
    const seen = await fillIn(t, cookie, finding, { component: 'Hub saal', severity: 'nuisance' })
    expect(seen.reply.body).toContain('value="known Hub seal"')
    await again(seen.reply.body, finding, { '_name component': 'known Hub seal' })
    expect(findingsOn(t.system, w.vehicle)).toMatchObject([{ component: 'Hub seal' }])
    expect(allComponents(t.system)).toHaveLength(2)
  })

  test('the API makes it, as it is asked to', async () => {
    const body = { family: 'Corvane Hualette B', odometer_unit: 'km' }
    await scenario(t, { as: 'desk', post: '/api/vehicles', body, expect: 201 })
    expect(names(allFamilies(t.system))).toEqual(['Corvane Haulette B', 'Corvane Hualette B'])
  })
})
