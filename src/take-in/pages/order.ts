import { settingsOf } from '../../accounts/index.ts'
import { allOperations } from '../../catalogue/index.ts'
import { longDay } from '../../core/days.ts'
import { findingsOn } from '../../findings/index.ts'
import type { Context } from '../../platform/context.ts'
import { formOnPage } from '../../platform/http/form-on-page.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pagePost, pageRead } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import type { Choice, FieldView } from '../../platform/pages/field.ts'
import { ref, words } from '../../platform/pages/words.ts'
import { AuthorisationInput, JobInput, TalkInput } from '../../work-orders/contract.ts'
import { addJob, authoriseAmount, writeTalk } from '../../work-orders/index.ts'
import { WAYS_OF_TALKING } from '../rules/words.ts'
import { type OrderSheet, orderSheet } from '../service/order-sheet.ts'
import { flagSentences } from './flag-sentences.ts'
import { attachmentsOfOrder } from './order-attachments.ts'
import { checkedWords, checksView, whileOpenTable } from './order-checks.ts'
import { orderComebacks } from './order-comebacks.ts'
import { arrivalWords, beforeHandBack, orderFacts, toolsInside } from './order-facts.ts'
import { jobsTable, stripDownView } from './order-jobs.ts'
import { orderLead } from './order-lead.ts'
import { boxesTable } from './order-places.ts'
import { foundSentences, othersWords, talksTable, yesTable } from './order-said.ts'
import { toolsTable } from './order-tools.ts'
import { waitsTable } from './order-waits.ts'
import { penOf, subjectWords } from './pen.ts'

/** Which of the page's forms came back to be put right. */
interface CameBack {
  job?: FormState
  talk?: FormState
  yes?: FormState
}

/** The page of a work order: where it stands, what was found, agreed and said, and the desk's forms. */
export function orderPage(pages: Pages): void {
  pageRead(pages, {
    url: '/work-orders/:id',
    handle: (ctx, { params }) => answer(pages, ctx, params.id, {}),
  })
  pagePost(pages, {
    url: '/work-orders/:id/jobs',
    roles: ['desk', 'technician'],
    contract: JobInput,
    page: (ctx, { params, form }) => answer(pages, ctx, params.id, { job: form }),
    submit(ctx, input, { params }) {
      const job = addJob(ctx, params.id, input)
      return { to: `/work-orders/${params.id}#jobs`, notice: `Added: ${job.letter} ${job.task}.` }
    },
  })
  pagePost(pages, {
    url: '/work-orders/:id/talks',
    roles: ['desk', 'technician'],
    contract: TalkInput,
    page: (ctx, { params, form }) => answer(pages, ctx, params.id, { talk: form }),
    submit(ctx, input, { params }) {
      writeTalk(ctx, params.id, input)
      return { to: `/work-orders/${params.id}#talks`, notice: 'Written down.' }
    },
  })
  pagePost(pages, {
    url: '/work-orders/:id/authorisations',
    roles: ['desk'],
    contract: AuthorisationInput,
    page: (ctx, { params, form }) => answer(pages, ctx, params.id, { yes: form }),
    submit(ctx, input, { params }) {
      const yes = authoriseAmount(ctx, params.id, input)
      const amount = penOf(settingsOf(ctx)).money(yes.amount_minor)
      return { to: `/work-orders/${params.id}#yes`, notice: `${yes.said_by} said yes to ${amount}.` }
    },
  })
}

function answer(pages: Pages, ctx: Context, orderId: string, back: CameBack): PageAnswer {
  const sheet = orderSheet(ctx, orderId)
  const { order, vehicle, customer, standing, stay } = sheet
  const pen = penOf(settingsOf(ctx))
  const isHere = standing.plan.hand_back === null
  const isDesk = ctx.actor?.role !== 'technician'
  const found = foundSentences(sheet, pen)
  const promised = stay.promised_on === null ? '' : ` · promised ${longDay(stay.promised_on)}`
  const comebacks = orderComebacks(sheet, pen, isDesk)
  const lead = orderLead(sheet, isDesk)
  const { to_check } = sheet
  const checks = to_check.checks.map(each => checksView(each, vehicle.family))
  const checked = checkedWords(to_check.checked, sheet.people, pen)
  const check_first = checks.length === 0 && checked === null ? null : { checked, checks }
  const drawn = stripDownView(sheet)
  const tools = toolsTable(sheet, pen)
  const waits = waitsTable(ctx, order.id, isHere)
  return {
    template: 'take-in/order',
    sheet: {
      title: `Work order ${order.number}`,
      sheet_title: 'Work order',
      sheet_number: words('Order ', ref(order.number)),
      subject: subjectWords(vehicle, customer),
      dates: `Taken in ${pen.longMoment(stay.taken_in)}${promised}`,
      nav: 'work-orders',
      // a form that came back stays as it is until it is sent
      scripts: Object.keys(back).length === 0 ? ['live.js'] : [],
    },
    view: {
      order_id: order.id,
      attachments: attachmentsOfOrder(ctx, sheet),
      vehicle_id: vehicle.id,
      lead: lead.sentence,
      next: lead.actions,
      parts: [
        ...(sheet.flags.length === 0 ? [] : [{ href: '#flags', name: 'The record' }]),
        ...(comebacks.length === 0 ? [] : [{ href: '#comeback', name: 'Comeback' }]),
        { href: '#found', name: 'Found' },
        ...(check_first === null ? [] : [{ href: '#checks', name: 'Check first' }]),
        { href: '#jobs', name: 'Jobs' },
        ...(tools === null ? [] : [{ href: '#tools-in', name: 'Tools in' }]),
        { href: '#photos', name: 'Photos and sound' },
        { href: '#places', name: 'Where things are' },
        ...(waits === null ? [] : [{ href: '#waits', name: 'Waits for' }]),
        { href: '#talks', name: 'Said' },
        ...(drawn === null ? [] : [{ href: '#strip-down-heading', name: 'Strip-down' }]),
        ...(to_check.while_open === null ? [] : [{ href: '#open', name: 'While it is open' }]),
        { href: '#yes', name: 'Who said yes' },
      ],
      facts: orderFacts(sheet, pen),
      tools: toolsInside(sheet, pen),
      tools_in: tools,
      complaint: order.complaint,
      symptoms: order.symptoms.length === 0 ? null : `${order.symptoms.join('; ')}.`,
      arrival: arrivalWords(sheet),
      before: isHere ? beforeHandBack(sheet) : null,
      flags: sheet.flags.length === 0 ? null : flagSentences(sheet.flags, ctx.actor?.role === 'owner'),
      comebacks: comebacks.length === 0 ? null : comebacks,
      found: found.length === 0 ? null : found,
      told:
        isHere && sheet.standing.blockers.some(({ reason }) => reason === 'safety_not_told')
          ? `/work-orders/${order.id}/told`
          : null,
      others: othersWords(sheet),
      check_first,
      jobs: jobsTable(sheet, pen),
      strip_down: drawn,
      while_open: to_check.while_open === null ? null : whileOpenTable(to_check.while_open, pen),
      boxes: boxesTable(ctx, order.id, true),
      waits,
      place: order.place?.replace(/\.$/, '') ?? null,
      may_add_box: isHere,
      talks: talksTable(sheet, pen),
      yes: yesTable(sheet, pen, isHere && isDesk),
      stops_at: standing.charges.has_yes
        ? `Going past ${pen.money(standing.charges.agreed_minor)} stops the hand-back until somebody has asked again.`
        : null,
      around_jobs: isHere ? jobActions(sheet, isDesk) : [],
      job: isHere ? jobFields(pages, ctx, sheet, back) : null,
      talk: formOnPage(pages, TalkInput, 'talk', back.talk ?? null).fields({ with: customer.name }),
      ways: WAYS_OF_TALKING,
      said_yes: isHere && isDesk ? yesFields(pages, sheet, back) : null,
      opened: {
        job: back.job !== undefined || lead.form === 'job',
        talk: back.talk !== undefined,
        yes: back.yes !== undefined || lead.form === 'yes',
      },
    },
  }
}

function jobActions({ order, estimates, standing }: OrderSheet, isDesk: boolean): Action[] {
  const to = `/work-orders/${order.id}`
  const newest = estimates.at(-1)
  const label = newest === undefined ? 'Make an estimate from the jobs' : 'Make a new version of the estimate'
  const hasJobs = standing.plan.jobs.some(job => job.voiding === null)
  const actions: Action[] = []
  if (hasJobs) actions.push({ kind: 'button', label: 'Add a part', href: `${to}/part-lines` })
  if (isDesk) actions.push({ kind: 'button', label, href: `${to}/estimate` })
  actions.push({ kind: 'link', label: 'It waits for something', href: `${to}/waits` })
  if (standing.plan.jobs.some(job => job.voiding === null && job.part_lines.length > 0))
    actions.push({ kind: 'link', label: 'Take a part off', href: `${to}/part-line-removals` })
  if (isDesk && hasJobs) actions.push({ kind: 'link', label: 'Take a job off', href: `${to}/voiding` })
  if (newest !== undefined) {
    const paper = `The estimate, version ${newest.version}, for paper`
    actions.push({ kind: 'link', label: paper, href: `${to}/estimates/${newest.version}` })
  }
  return actions
}

function jobFields(pages: Pages, ctx: Context, sheet: OrderSheet, { job }: CameBack): Record<string, FieldView> {
  const operations = allOperations(ctx).map(({ id, name }): Choice => ({ value: id, label: name }))
  const findings = findingsOn(ctx, sheet.vehicle.id).map(
    ({ id, component, failure_mode, found_on }): Choice => ({
      value: id,
      label: `${[component, failure_mode].filter(Boolean).join(': ')}, ${longDay(found_on)}`,
    }),
  )
  return formOnPage(pages, JobInput, 'job', job ?? null).fields(
    {},
    { operation_id: operations, settles_finding_id: findings },
  )
}

function yesFields(pages: Pages, sheet: OrderSheet, { yes }: CameBack): Record<string, FieldView> {
  const { customer, standing, estimates } = sheet
  const newest = estimates.at(-1)
  const values = {
    amount_minor: standing.charges.total_minor,
    includes_tax: true,
    said_by: customer.name,
    how: 'in_person',
    ...(newest !== undefined && { estimate_id: newest.id }),
  }
  const versions = estimates.map(({ id, version }): Choice => ({ value: id, label: `version ${version}` }))
  return formOnPage(pages, AuthorisationInput, 'yes', yes ?? null).fields(values, { estimate_id: versions })
}
