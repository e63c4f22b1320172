import { beforeEach, describe, expect, test } from 'vitest'
import { createComponent } from '../../src/catalogue/index.ts'
import { comebackDecision } from '../../src/comebacks/service/decisions.ts'
import { partsToClaim } from '../../src/comebacks/service/recoveries.ts'
import { createSupplier } from '../../src/parts/index.ts'
import { eachTestItsApp, type TestApp } from '../support/app.ts'
import { type ComebackWorld, comebackWorld } from '../support/comeback-world.ts'
import { fillIn, page } from '../support/forms.ts'
import { twoMonths } from '../support/two-months.ts'

const app = eachTestItsApp()
let t: TestApp
let w: ComebackWorld
let owner: string
let decision: string

beforeEach(async () => {
  t = await app()
  w = comebackWorld(t)
  decision = (await twoMonths(t, w).goOn()).decision.id
  owner = t.cookie('owner')
})

const text = (html: string) =>
  html
    .replace(/<svg.*?<\/svg>/gs, ' ')
    .replace(/<[^>]*>/g, ' ')
    .replace(/\s+/g, ' ')

describe('what was changed after a comeback', () => {
  const NEW = '/comebacks/actions/new'

  test('is noted from the comeback, puts its look on the operation, and says how it worked', async () => {
    createComponent(w.owner, {
      ...{ name: 'Lamp contact', severity: 'nuisance', causes: [], check_minutes: 2, access_step_ids: [] },
    })
    const typed = { what: 'The contact is cleaned and looked at.', done_on: '2031-04-10' }
    const half = await fillIn(
      t,
      owner,
      NEW,
      { ...typed, look_operation_id: w.operations.bulb },
      `${NEW}?decision=${decision}`,
    )
    expect(half.reply.statusCode).toBe(422)
    expect(half.reply.body).toContain('Say what to look at on these jobs.')
    expect(half.reply.body, 'what was typed is there still').toContain('The contact is cleaned and looked at.')
    const whole = { ...typed, look_operation_id: w.operations.bulb, look_component: 'Lamp contact' }
    const { reply } = await fillIn(t, owner, NEW, whole, `${NEW}?decision=${decision}`)
    expect(reply.statusCode, reply.body.slice(0, 500)).toBe(303)
    const list = text(await page(t, '/comebacks/actions', owner))
    expect(list).toContain('The look at Lamp contact is on the operation.')
    // both bulb jobs were handed back before the change, and neither has been out for its 365 days
    expect(list).toMatch(
      /10 Apr 2031 The contact is cleaned and looked at\. Look added: Lamp contact .* too few to tell/,
    )
    // the comeback that it was made for is within its 365 days, and so not counted
    expect(list).toMatch(/0 of 0 and 1 of \d still within the window/)
    const form = await page(t, NEW, owner)
    expect(text(form)).toContain('(a change of 10 Apr 2031 covers it)')
    expect(form, 'the day is today at first').toContain('value="2031-05-01"')
  })

  test('is for the owner to write and for everybody to read', async () => {
    await page(t, NEW, t.cookie('desk'), 403)
    expect(text(await page(t, '/comebacks/actions', t.cookie('technician')))).toContain('Nothing has been changed')
    expect(await page(t, '/comebacks', owner)).toContain(`${NEW}?decision&#x3D;${decision}`)
  })
})

describe('a claim on a supplier', () => {
  test('goes from the comeback to the money, each step a line that stays', async () => {
    const supplier = createSupplier(w.desk, { name: 'Pennant Spares' }).id
    const address = `/comebacks/decided/${decision}/claim`
    const empty = await fillIn(t, owner, address, { supplier_id: supplier, amount_minor: 'a lot' })
    expect(empty.reply.statusCode).toBe(422)
    const claim = { supplier_id: supplier, amount_minor: '30.00', deadline_on: '2031-04-20', kept_where: 'Shelf 3' }
    const { reply } = await fillIn(t, owner, address, claim)
    expect(reply.statusCode, reply.body.slice(0, 500)).toBe(303)
    const open = await page(t, '/comebacks/claims', owner)
    expect(text(open)).toMatch(/Pennant Spares €30\.00 20 Apr 2031 the day has passed claimed .*kept: Shelf 3/)
    const house = async () => text(await page(t, '/', owner))
    expect(await house()).toContain('The claim on Pennant Spares (QH 418 TK) was to be settled by 20 April 2031.')
    const news = /href="(\/comebacks\/claims\/[^"]+)"/.exec(open)![1]!
    const paid = await fillIn(t, owner, news, { state: 'paid', amount_minor: '25.00', reason: 'Credit note 88.' })
    expect(paid.reply.statusCode).toBe(303)
    expect(text(await page(t, '/comebacks/claims', owner))).toMatch(/paid Credit note 88\..* claimed, no longer/)
    expect(await house(), 'what is paid is not reminded of').not.toContain('Pennant Spares')
    // 0.2 h × 40.00 + 30.00, less 25.00
    expect(text(await page(t, '/months/2031-03?as_of=2031-05-01', owner))).toContain('It cost us €13.00')
    await page(t, address, t.cookie('desk'), 403)
    await page(t, '/comebacks/decided/none/claim', owner, 404)
    await page(t, '/comebacks/claims/none', owner, 404)
  })

  test('is reminded of from a week before its day', async () => {
    const supplier = createSupplier(w.desk, { name: 'Pennant Spares' }).id
    const [bulb] = partsToClaim(w.owner, decision)
    for (const [deadline_on, part_line_id] of [
      ['2031-05-07', bulb!.id],
      ['2031-05-08', ''],
      ['2031-05-09', ''],
    ] as const) {
      const claim = { supplier_id: supplier, amount_minor: '30.00', deadline_on, part_line_id }
      expect((await fillIn(t, owner, `/comebacks/decided/${decision}/claim`, claim)).reply.statusCode).toBe(303)
    }
    // it is the first of May
    const house = text(await page(t, '/', owner))
    expect(house).toMatch(
      /The claim on Pennant Spares for the [a-z ]+ \(QH 418 TK\) is to be settled by 7 May 2031\. The claim on Pennant Spares \(QH 418 TK\) is to be settled by 8 May 2031\. Claims on suppliers/,
    )
    expect(house).not.toContain('is to be settled by 9 May 2031')
  })
})

describe('a month that is issued', () => {
  test('stands, with what is known differently since beside it', async () => {
    const before = await page(t, '/months/2031-03', owner)
    expect(text(before)).toContain('as known on 31 March 2031; never issued')
    expect(await page(t, '/months/2031-03', t.cookie('desk'))).not.toContain('action="/months/2031-03/issue"')
    expect(await page(t, '/months/2031-05', owner), 'a month that runs').not.toContain('/issue"')
    const { reply } = await fillIn(t, owner, '/months/2031-03/issue', {}, '/months/2031-03?as_of=2031-05-01')
    expect(reply.statusCode).toBe(303)
    const issued = await page(t, '/months/2031-03', owner)
    expect(text(issued)).toContain('issued, as known on 1 May 2031')
    expect(text(issued)).toContain('Nothing of it is known differently today.')
    expect(issued).not.toContain('action="/months/2031-03/issue"')
    await w.decide({ ...twoMonthsPair(), decision: 'ruled_out', supersedes: decision })
    const later = text(await page(t, '/months/2031-03', owner))
    expect(later).toMatch(
      /Jobs that came back 1 0 Returns confirmed 1 0 Returns ruled out 0 1 Cost of the returns €38\.00 €0\.00/,
    )
    expect(later, 'its own figures stand').toContain('It cost us €38.00')
    expect(text(await page(t, '/months/2031-03?as_of=2031-04-10', owner))).toContain('the issued one stands')
    expect(text(await page(t, '/months', owner))).toMatch(/March 2031 issued/)
  })

  /** The pair that was decided, as its decision names it. */
  function twoMonthsPair() {
    const { earlier_job_id, later_work_order_id } = comebackDecision(w.owner, decision)
    return { earlier_job_id, later_work_order_id }
  }
})
