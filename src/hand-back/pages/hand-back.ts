import { settingsOf } from '../../accounts/index.ts'
import { openSuspicions } from '../../comebacks/index.ts'
import { longDay } from '../../core/days.ts'
import { distanceInWords, inText } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { type Pen, penOf } from '../../platform/pages/pen.ts'
import { link, ref, strong, words } from '../../platform/pages/words.ts'
import { leftWithIt } from '../../work-orders/index.ts'
import { HandBackInput } from '../contract.ts'
import type { Blocker } from '../rules/blockers.ts'
import { handBack } from '../service/hand-back.ts'
import { type HandBackSheet, handBackSheet } from '../service/sheet.ts'
import { safetyNotLookedAt } from '../service/what-to-check.ts'
import { chargesTable, seenAndAdvised, subjectOf } from './sheet-views.ts'

/** What is missing, what is to pay, and the button that lets the vehicle go. */
export function handBackFormPages(pages: Pages): void {
  pageForm(pages, {
    url: '/work-orders/:id/hand-back',
    roles: ['desk'],
    contract: HandBackInput,
    page: (ctx, { params, form }) => handBackPage(ctx, params.id, form, penOf(pages.habits())),
    submit(ctx, input, { params }) {
      const { invoice } = handBack(ctx, params.id, input)
      return { to: `/work-orders/${params.id}/invoice`, notice: `Handed back. Invoice ${invoice.number}.` }
    },
  })
}

function handBackPage(ctx: Context, orderId: string, form: FormState, pen: Pen): PageAnswer {
  const sheet = handBackSheet(ctx, orderId)
  const { order, standing, hand_back } = sheet
  return {
    template: 'hand-back/hand-back',
    sheet: {
      title: `Hand back ${order.number}`,
      sheet_title: 'Hand back',
      sheet_number: words(link(`/work-orders/${order.id}`, ref(order.number))),
      subject: subjectOf(sheet),
      nav: 'work-orders',
    },
    view: {
      action: `/work-orders/${order.id}/hand-back`,
      gone: hand_back && {
        text: words(
          `Handed back on ${longDay(hand_back.on)}: `,
          link(`/work-orders/${order.id}/invoice`, `invoice ${hand_back.invoice.number}`),
          '.',
        ),
      },
      facts: factsOf(sheet, pen),
      blockers: [...standing.blockers.map(sentenceOf), ...askFirst(ctx, sheet)],
      charges: chargesTable(standing.charges, pen),
      seen: seenAndAdvised(sheet, pen, settingsOf(ctx).time_zone),
      left_with_it: leftWithIt(order),
      fields: form.fields(),
    },
  }
}

/**
 * What does not block, and is to be asked before it is charged: work nobody said is done, what safety hangs on and nobody looked
 * at, and whether it is ours to bear.
 */
function askFirst(ctx: Context, { order, standing }: HandBackSheet) {
  if (standing.plan.hand_back !== null) return []
  const asked = standing.to_ask.map(({ reason, sentence, href }) => ({
    word: 'Ask',
    text: sentence,
    why: reason === 'no_job' ? '' : words(link(href, WHERE_ASKED[reason])),
    hurts: reason !== 'no_job',
  }))
  const ours = openSuspicions(ctx, { work_order_id: order.id }).map(suspicion => ({
    word: 'Ours?',
    text: 'It may be here because of an earlier job of ours, and nobody has decided that yet. Ask the owner who bears it before it is charged.',
    why: words(link(`/comebacks/${suspicion.earlier_job_id}/${order.id}`, 'The suspicion')),
    hurts: false,
  }))
  const unlooked = safetyNotLookedAt(ctx, standing.plan).map(component => ({
    word: 'Ask',
    text: `The strip-down laid the ${inText(component)} open, safety hangs on it, and nobody has written down a look at it.`,
    why: words(link(`/work-orders/${order.id}#open`, 'While it is open')),
    hurts: true,
  }))
  return [...asked, ...unlooked, ...ours.slice(0, 1)]
}

const WHERE_ASKED = {
  tool_not_said: 'To the job card',
  job_not_said_done: 'To the job card',
  box_not_empty: 'Where things are',
  comeback_not_borne: 'To the work order',
}

const WHERE: Record<Blocker['reason'], string> = {
  tool_in: 'To the job card',
  step_open: 'To the job card',
  look_missing: 'To the job card',
  joint_unsigned: 'To the joint',
  temporary_fasteners: 'To the joint',
  engine_not_turned: 'To the job card',
  check_missing: 'To the job card',
  check_failed: 'To the job card',
  safety_not_told: 'Write down who was told',
  no_yes: 'To the work order',
  above_agreed: 'To the work order',
}

function sentenceOf({ reason, sentence, href }: Blocker) {
  const isMoney = reason === 'no_yes' || reason === 'above_agreed'
  const isTemporary = reason === 'temporary_fasteners'
  return {
    word: isMoney ? 'Ask' : 'Not yet',
    text: isTemporary ? words(strong(sentence)) : sentence,
    why: words(link(href, WHERE[reason])),
    hurts: !isMoney,
    // what is not for the road stands in large words
    foremost: isTemporary,
  }
}

function factsOf({ order, vehicle, standing, hours }: HandBackSheet, pen: Pen) {
  const { charges } = standing
  const left = charges.agreed_minor - charges.total_minor
  return [
    { label: 'To pay', value: pen.money(charges.gross_minor), chief: true },
    { label: 'Agreed up to', value: charges.has_yes ? pen.money(charges.agreed_minor) : 'nobody has said yes yet' },
    ...(charges.has_yes && left < 0 ? [{ label: 'Above the yes', value: pen.money(-left) }] : []),
    { label: 'Hours together', value: `${pen.number(hours)} h` },
    ...(order.odometer_km === undefined
      ? []
      : [{ label: 'Odometer in', value: distanceInWords(order.odometer_km, vehicle.odometer_unit) }]),
    ...(order.promised_on === undefined ? [] : [{ label: 'Wanted back', value: longDay(order.promised_on) }]),
  ]
}
