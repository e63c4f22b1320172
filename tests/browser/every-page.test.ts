import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, onTestFinished, test } from 'vitest'
import { DEMO_NOW, tellWorkshop } from '../../seed/workshop.ts'
import { handClock } from '../../src/platform/clock.ts'
import { copyAttachments, namedAttachments } from '../../src/platform/database/attachments.ts'
import { migrate } from '../../src/platform/database/migrate.ts'
import { openStore, type Store } from '../../src/platform/database/open.ts'
import { countedIds } from '../../src/platform/ids.ts'
import { axeFaults, eachFileItsBrowser, SIZES, scrollsSideways, served, signIn } from '../support/browser.ts'
import { silentLog } from '../support/database.ts'

const browser = eachFileItsBrowser()
let told: Store
let bytes: Buffer

beforeAll(async () => {
  told = openStore(':memory:')
  migrate(told)
  const clock = handClock(0)
  await tellWorkshop({ store: told, clock, ids: countedIds(clock), log: silentLog })
  bytes = told.raw.serialize()
})

afterAll(() => told.close())

const one = (store: Store, sql: string): string => store.raw.prepare(sql).pluck().get() as string

/** Every page of the program on the demo workshop, by what it is called. */
function pagesOf(store: Store): Record<string, string> {
  const van = one(store, "select id from vehicles where plate = 'QH 418 TK'")
  const order = one(store, `select id from work_orders where vehicle_id = '${van}' order by created_at desc limit 1`)
  const job = one(store, `select id from jobs where work_order_id = '${order}' order by letter limit 1`)
  const joint = one(store, `select id from job_joints where job_id = '${job}'`)
  const step = one(store, `select id from job_steps where job_id = '${job}' limit 1`)
  const toolsIn = one(store, 'select t.id from tools_in t where t.count > 1 order by t.id desc limit 1')
  const photo = one(store, "select job_id || '/marks/' || id from job_marks where photo limit 1")
  const doneJoint = one(store, 'select joint_id from sign_offs order by created_at desc limit 1')
  const record = one(
    store,
    `select joint_id || '/records/' || id from torque_records where supersedes_id is null limit 1`,
  )
  const gone = one(store, 'select work_order_id from hand_backs order by at desc limit 1')
  const wrench = one(store, "select id from wrenches where name = 'W-07'")
  const gauge = one(store, "select id from gauges where kind = 'angle_gauge'")
  const adapter = one(store, 'select id from adapters order by name limit 1')
  const procedure = one(store, "select id from procedures where name = 'CH-B-TA'")
  const outside = one(store, "select id from calibrations where found = 'outside'")
  const batch = store.raw.prepare('select id, part_id from batch_faults').get() as { id: string; part_id: string }
  const doubted = one(store, `select joint_id from part_lines where batch = '31-318' and joint_id is not null`)
  const doubtedOrder = one(
    store,
    `select work_order_id from jobs where id = (select job_id from job_joints where id = '${doubted}')`,
  )
  const decided = one(store, "select earlier_job_id || '/' || later_work_order_id from comeback_decisions limit 1")
  const confirmed = one(store, 'select decision_id from recoveries limit 1')
  const claim = one(store, 'select id from recoveries limit 1')
  const names = 'component=Alternator&clock=days'
  return {
    ...{
      'in the house': '/',
      'the box': '/?q=QH',
      'nothing found': '/?q=QH+999+ZZ',
      'take in': `/take-in?vehicle=${van}`,
      newcomer: '/take-in/new',
    },
    ...{
      'work orders': '/work-orders',
      'work order': `/work-orders/${order}`,
      estimate: `/work-orders/${order}/estimate`,
    },
    ...{ 'hand back': `/work-orders/${order}/hand-back`, invoice: `/work-orders/${gone}/invoice` },
    ...{ vehicles: '/vehicles', vehicle: `/vehicles/${van}`, 'new vehicle': '/vehicles/new' },
    ...{
      'my jobs': '/bench',
      'job card': `/bench/jobs/${job}`,
      joint: `/bench/joints/${joint}`,
      'a joint that is done': `/bench/joints/${doneJoint}`,
      'whole stage as set': `/bench/joints/${joint}/stage-as-set`,
      'a record put right': `/bench/joints/${record}`,
      'fastening record': `/joints/${doneJoint}/record`,
      finding: `/bench/jobs/${job}/finding`,
    },
    ...{
      'earlier work': `/bench/jobs/${job}/prior-work`,
      'add a photo': `/attachments/new?work_order_id=${order}`,
      'add a sound': `/attachments/new?job_id=${job}&moment=before&back=/bench/jobs/${job}`,
      'open again': `/bench/jobs/${job}/steps/${step}/open-again`,
      'tools counted out': `/bench/jobs/${job}/tools/${toolsIn}/out`,
      'without a photo': `/bench/jobs/${photo}/no-photo`,
      'tools out': '/tools-out',
      tools: '/tools',
      wrench: `/tools/wrenches/${wrench}`,
      'new wrench': '/tools/wrenches/new',
      calibration: `/tools/wrenches/${wrench}/calibrations/new`,
      'out of use': `/tools/wrenches/${wrench}/withdrawals/new`,
      gauge: `/tools/gauges/${gauge}`,
      'gauge check': `/tools/gauges/${gauge}/checks/new`,
      adapter: `/tools/adapters/${adapter}?target=25&angle=30`,
    },
    ...{
      'in doubt': '/in-doubt',
      'settle a joint': `/in-doubt/joints/${batch.id}.${doubted}`,
      'settle at once': `/in-doubt/causes/${batch.id}`,
      'note a call': `/in-doubt/calls/${doubtedOrder}`,
      'doubted since': `/calibrations/${outside}/doubted-since`,
      'bad batch': `/parts/${batch.part_id}/batch-faults/new`,
    },
    ...{
      comebacks: '/comebacks',
      'comeback decision': `/comebacks/${decided}`,
      'comeback rate': '/comebacks/rate',
      'what we changed': '/comebacks/actions',
      'a new change': `/comebacks/actions/new?decision=${confirmed}`,
      'what if': '/comebacks/what-if?operation=Final+drive+belt%3A+renew&component=Rear+wheel+bearing&minutes=5',
      'work done twice': '/comebacks/losses',
      'why it was done twice': `/comebacks/losses/${one(store, "select id from step_openings where borne_by = 'us'")}`,
      'claims on suppliers': '/comebacks/claims',
      'a new claim': `/comebacks/decided/${confirmed}/claim`,
      'news of a claim': `/comebacks/claims/${claim}`,
      warranty: '/warranty',
      months: '/months',
      month: '/months/2031-10',
      'an issued month': '/months/2031-08',
    },
    ...{
      'what follows what': '/recurring',
      'a pair': '/recurring/pair?operation=Final+drive+belt%3A+renew&component=Rear+wheel+bearing&failure_mode=noisy',
      'how it recurs': `/recurring/recurrence?${names}`,
      'two groups compared': `/recurring/recurrence?${names}&family=Corvane+Haulette+B&compare_family=Pikko+Tramp+300`,
      'what to check first': '/recurring/first-checks?symptom=Brakes+judder&family=Corvane+Haulette+B&season_month=11',
      season: '/recurring/season?symptom=Does+not+start',
      'a part added': `/work-orders/${order}/part-lines`,
      'a tool not used': one(
        store,
        "select '/bench/jobs/' || job_id || '/planned-tools/' || id || '/omission' from job_tools order by id desc",
      ),
      'it waits for something': `/work-orders/${order}/waits`,
      'it will not come': `/waits/${one(store, 'select id from waits')}/end`,
      'a part taken off': `/work-orders/${order}/part-line-removals`,
    },
    ...{
      procedure: `/catalogue/procedures/${procedure}`,
      'earlier revision': `/catalogue/procedures/${procedure}?revision=1`,
      'new revision': `/catalogue/procedures/${procedure}/revisions/new`,
      'new procedure': '/catalogue/procedures/new',
    },
    ...{ catalogue: '/catalogue', parts: '/parts', settings: '/settings', people: '/people', patterns: '/patterns' },
  }
}

/** What is wrong on which page; a page without a fault is left out. */
async function faultsOfAll(page: Page, store: Store, look: () => Promise<string[]>): Promise<Record<string, string[]>> {
  const faults: Record<string, string[]> = {}
  for (const [name, address] of Object.entries(pagesOf(store))) {
    const answer = await page.goto(address)
    const found = answer?.status() === 200 ? await look() : [`answered ${answer?.status()}`]
    if (found.length > 0) faults[name] = found
  }
  return faults
}

/** A day is written in words: the digits of a form or a file are for typing. */
const daysInDigits = async (page: Page) => {
  const text = (await page.textContent('main')) ?? ''
  return [...text.matchAll(/(?<!such as |: )\b\d{4}-\d{2}-\d{2}\b(?!, \d{4}-\d{2})/g)].map(([day]) => `says ${day}`)
}

const sideways = async (page: Page) => ((await scrollsSideways(page)) ? ['scrolls sideways'] : [])

async function ownerAt(size: { width: number; height: number }): Promise<{ page: Page; store: Store }> {
  const store = openStore(bytes)
  onTestFinished(() => store.close())
  copyAttachments(told.files, store.files, namedAttachments(store.raw))
  const t = await served({ store, nowMs: DEMO_NOW })
  return { page: await signIn(browser(), t, { name: 'Anybody at all', role: 'owner' }, size), store }
}

test('at the desk every page opens and reads with a screen reader, and days are words', async () => {
  const { page, store } = await ownerAt(SIZES.desk)
  const look = async () => [...(await axeFaults(page)), ...(await sideways(page)), ...(await daysInDigits(page))]
  expect(await faultsOfAll(page, store, look)).toEqual({})
})

test('on a telephone too', async () => {
  const { page, store } = await ownerAt(SIZES.telephone)
  const look = async () => [...(await axeFaults(page)), ...(await sideways(page))]
  expect(await faultsOfAll(page, store, look)).toEqual({})
})

test('on a telephone what acts on a row is as high as a finger', async () => {
  const { page } = await ownerAt(SIZES.telephone)
  for (const address of ['/in-doubt', '/comebacks', '/comebacks/claims']) {
    await page.goto(address)
    const heights = await page
      .locator('.acts')
      .evaluateAll(links => links.map(link => link.getBoundingClientRect().height))
    expect(heights.length, address).toBeGreaterThan(0)
    expect(Math.min(...heights), address).toBeGreaterThanOrEqual(44)
  }
})

test('on a tablet, and in the dark, every page scrolls one way and can be read', async () => {
  const { page, store } = await ownerAt(SIZES.tablet)
  await page.emulateMedia({ colorScheme: 'dark' })
  const look = async () => [...(await axeFaults(page, ['color-contrast'])), ...(await sideways(page))]
  expect(await faultsOfAll(page, store, look)).toEqual({})
})
