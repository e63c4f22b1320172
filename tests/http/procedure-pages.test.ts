import { describe, expect, test } from 'vitest'
import { addProcedureRevision, allProcedures, latestRevision, procedureRevisions } from '../../src/catalogue/index.ts'
import { recordTorque } from '../../src/fastening/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { fillIn, page } from '../support/forms.ts'
import { jointWith, reading } from '../support/joints.ts'
import { orderWorld } from '../support/order-world.ts'
import { TYPED_REVISION } from '../support/revision-form.ts'

const app = eachTestItsApp()

/** The address of a new procedure. */
async function procedure(t: TestApp): Promise<string> {
  const { reply } = await fillIn(t, t.cookie('owner'), '/catalogue/procedures/new', { name: 'Hub, six bolts' })
  return String(reply.headers.location).replace('/revisions/new', '')
}

/** A procedure whose first revision was typed so, and its address. */
async function typed(t: TestApp, more: Record<string, string | string[]> = {}): Promise<string> {
  const address = await procedure(t)
  const { reply } = await fillIn(t, t.cookie('owner'), `${address}/revisions/new`, { ...TYPED_REVISION, ...more })
  expect(reply.statusCode, reply.body).toBe(303)
  return address
}

const newest = (t: TestApp) => latestRevision(t.system, allProcedures(t.system)[0]!.id)!
/** The numbers on the heads, as positions count. */
const drawn = (html: string) => [...html.matchAll(/class="order-number"[^>]*>(\d+)</g)].map(match => Number(match[1]))

describe('the page of a procedure', () => {
  test('draws the joint and says all that the revision says, with its caution beside the numbers', async () => {
    const t = await app()
    const address = await typed(t, {
      thread: 'M10x1.25',
      class: '10.9',
      finish: 'Oiled',
      marks: ['Flange to hub', ''],
      order: '1, 4, 2, 5, 3, 6',
      order_names: 'positions',
    })
    const html = await page(t, address, t.cookie('technician'))
    expect(drawn(html)).toEqual([1, 3, 5, 2, 4, 6])
    for (const said of [
      '6 fasteners on a circle',
      'M10x1.25, class 10.9, Oiled',
      '1 4 2 5 3 6: the maker’s own, printed as positions',
      'never: new ones each time',
      'take it out, fit a new one, and take that through all stages',
      'safety: life or limb may hang on it',
      'Tighten to 30 N·m',
      '28.5 to 31.5 N·m',
      'Turn further by 90°',
      '85.5 to 94.5°',
      'the workshop’s own, 5 % of the target',
      'Flange to hub',
      'From Corvane manual, edition 4, page 212. Use the maker’s current values',
      'not two of 30° and 60°',
    ]) {
      expect(html).toContain(said)
    }
    expect(html).not.toContain('/revisions/new')
  })

  test('shows a mistake between positions and labels on the drawing', async () => {
    const t = await app()
    const order = { count: '5', order: '1-3-5-2-4', order_names: 'labels' }
    expect(drawn(await page(t, await typed(t, order), t.cookie('desk')))).toEqual([1, 3, 5, 2, 4])
    const [{ id } = { id: '' }] = allProcedures(t.system)
    addProcedureRevision(t.system, id, { ...revisionInput(t), order_names: 'positions' })
    expect(drawn(await page(t, `/catalogue/procedures/${id}`, t.cookie('desk')))).toEqual([1, 4, 2, 5, 3])
  })

  test('says nothing yet before the first revision, and knows no other', async () => {
    const t = await app()
    const address = await procedure(t)
    expect(await page(t, address, t.cookie('owner'))).toContain('It says nothing yet')
    await page(t, `${address}?revision=1`, t.cookie('owner'), 404)
    await page(t, `${address}?revision=x`, t.cookie('owner'), 404)
  })

  test('says “again” of one more torque stage of the same target', async () => {
    const t = await app()
    const html = await page(
      t,
      await typed(t, { 'stages[1][kind]': 'repeat', 'stages[1][target]': '' }),
      t.cookie('technician'),
    )
    expect(newest(t).stages).toEqual([
      { kind: 'torque', target: 30, lower: 28.5, upper: 31.5 },
      { kind: 'torque', target: 30, lower: 28.5, upper: 31.5 },
    ])
    expect(html).toContain('Tighten again to 30 N·m')
  })

  test('says “again” at the bench, too', async () => {
    const t = await app()
    const w = orderWorld(t)
    const stage = { kind: 'torque' as const, target: 25, lower: 20, upper: 30 }
    const joint = jointWith(t, w, { layout: 'row', count: 1, stages: [stage, stage] })
    const bench = () => page(t, `/bench/joints/${joint}`, t.cookie('technician'))
    expect(await bench()).not.toContain('tighten again to')
    recordTorque(w.technician, joint, reading(w, 1, 1, 25))
    expect(await bench()).toContain('tighten again to')
  })

  test('lists who changed what when, and what was made by each', async () => {
    const t = await app()
    const w = orderWorld(t)
    const joint = jointWith(t, w)
    const { procedure_revision_id } = t.deps.store.raw
      .prepare('select procedure_revision_id from job_joints where id = ?')
      .get(joint) as { procedure_revision_id: string }
    const { id } = allProcedures(t.system).find(({ id: each }) =>
      procedureRevisions(t.system, each).some(revision => revision.id === procedure_revision_id),
    )!
    const { reply } = await fillIn(t, t.cookie('owner'), `/catalogue/procedures/${id}/revisions/new`, {
      'stages[0][target]': '27',
      supersedes: procedure_revision_id,
      reason: 'Read from the wrong column',
    })
    expect(reply.statusCode).toBe(303)
    const html = await page(t, `/catalogue/procedures/${id}`, t.cookie('technician'))
    expect(html).toContain('was Tighten to 25 N·m (20 to 30 N·m); then turn further by 90° (85 to 95°).')
    expect(html).toContain('Revision 1 was wrong: Read from the wrong column')
    expect(html).toContain('Wrong, says revision 2: Read from the wrong column')
    expect(html).toContain('owner person')
    const made = [...html.matchAll(/data-label="Joints (here|gone out)">(\d+)</g)].map(match => match[2])
    expect(made).toEqual(['0', '0', '1', '0'])
    const old = await page(t, `/catalogue/procedures/${id}?revision=1`, t.cookie('technician'))
    expect(old).toContain('Not the newest')
    expect(old).toContain('Tighten to 25 N·m')
  })
})

describe('the estimate of preload', () => {
  const BOLT = {
    thread: 'M10',
    class: '8.8',
    'stages[0][target]': '48',
    'stages[0][lower]': '',
    'stages[0][upper]': '',
    'stages[1][kind]': '',
    'stages[1][target]': '',
  }

  // By hand: 48 N·m / (0.159·1.5 + 0.577·9.026·0.12 + 12.815/2·0.12 mm) = 29.4 kN, a third either way; 57.99 mm² · 580 MPa =
  // 33.6 kN (VDI 2230, ISO 898-1; their printed tables are checked in tests/core).
  test('stands on the page with its scatter, its assumptions and its caution, and nowhere at the bench', async () => {
    const t = await app()
    const address = await typed(t, BOLT)
    const asked = `${address}?mu_thread=0,12&mu_head=0.12&bearing_diameter_mm=12.815`
    const html = await page(t, asked, t.cookie('technician'))
    expect(html).toContain('Preload, an estimate')
    expect(html).toContain('the maker’s torque governs')
    expect(html).toContain('29.4 kN')
    expect(html).toContain('19.6 kN to 39.2 kN')
    expect(html).toContain('58.0 mm²')
    expect(html).toContain('33.6 kN')
    expect(html).toContain('87 %')
    expect(html).toContain('At its high end the estimate passes the proof load')
    expect(html).toContain('value="0,12"')
    const usual = await page(t, address, t.cookie('technician'))
    expect(usual).toContain('common practice, no source')
    expect(usual).toContain('value="12.815"')
  })

  test('warns above the proof load', async () => {
    const t = await app()
    const html = await page(t, await typed(t, { ...BOLT, 'stages[0][target]': '80' }), t.cookie('desk'))
    expect(html).toContain('The estimate lies above the proof load')
    expect(html).toContain('80 N·m is above the 63 N·m or so')
  })

  test('says why there is none', async () => {
    const t = await app()
    const none = async (more: Record<string, string>) => page(t, await renamed(t, more), t.cookie('desk'))
    expect(await none({})).toContain('An angle comes last and decides the preload')
    expect(await none({ ...BOLT, thread: '' })).toContain('The thread is not said')
    expect(await none({ ...BOLT, thread: '3/8-16 UNC' })).toContain('The thread “3/8-16 UNC” is not understood')
    expect(await none({ ...BOLT, class: 'A2-70' })).toContain('has no proof load in ISO 898-1')
    expect(await none({ ...BOLT, 'stages[1][kind]': 'loosen', 'stages[1][target]': '90' })).toContain('loosened last')
  })

  test('takes any query without a fault, and says what it cannot use', async () => {
    const t = await app()
    const address = await typed(t, BOLT)
    for (const query of [
      'mu_thread=oil',
      'mu_thread=0',
      'mu_head=9e9',
      'bearing_diameter_mm=-1',
      'bearing_diameter_mm=9',
    ]) {
      expect(await page(t, `${address}?${query}`, t.cookie('desk'))).toContain('class="problem"')
    }
    await page(t, `${address}?mu_thread=1&mu_thread=2`, t.cookie('desk'), 422)
    expect(await page(t, `${address}?mu_thread=`, t.cookie('desk'))).not.toContain('class="problem"')
  })

  async function renamed(t: TestApp, more: Record<string, string>): Promise<string> {
    const { reply } = await fillIn(t, t.cookie('owner'), '/catalogue/procedures/new', {
      name: `Procedure ${t.deps.ids.next()}`,
    })
    const url = String(reply.headers.location)
    expect((await fillIn(t, t.cookie('owner'), url, { ...TYPED_REVISION, ...more })).reply.statusCode).toBe(303)
    return url.replace('/revisions/new', '')
  }
})

// Common practice, no source.
describe('procedures as they are met every day', () => {
  test('five fasteners on a circle to 40 N·m, then 32° more, new ones each time', async () => {
    const t = await app()
    const address = await typed(t, {
      count: '5',
      'stages[0][target]': '40',
      'stages[0][lower]': '',
      'stages[0][upper]': '',
      'stages[1][target]': '32',
    })
    const html = await page(t, address, t.cookie('technician'))
    expect(html).toContain('1 3 5 2 4: by the rule for this layout')
    expect(html).toContain('38 to 42 N·m')
    expect(html).toContain('Turn further by 32°')
    expect(html).toContain('never: new ones each time')
  })

  test('12 N·m in criss-cross on clutch cover screws that may be used again', async () => {
    const t = await app()
    const address = await typed(t, {
      'stages[0][target]': '12',
      'stages[0][lower]': '',
      'stages[0][upper]': '',
      'stages[1][kind]': '',
      'stages[1][target]': '',
      reuse: 'free',
      on_failure: 'restart',
    })
    const html = await page(t, address, t.cookie('technician'))
    expect(html).toContain('1 4 2 5 3 6: by the rule for this layout')
    expect(html).toContain('11.4 to 12.6 N·m')
    expect(html).toContain('loosen it and take it through all stages again')
  })
})

function revisionInput(t: TestApp) {
  const { layout, count, order, stages, reuse, severity, on_failure, source } = newest(t)
  return { layout, count, order, stages, reuse, severity, on_failure, source }
}
