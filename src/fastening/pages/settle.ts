import type { Context } from '../../platform/context.ts'
import type { FormState } from '../../platform/http/form-state.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../platform/http/pages.ts'
import { column, type Row, table } from '../../platform/pages/table.ts'
import type { Words } from '../../platform/pages/words.ts'
import { notFound } from '../../platform/problems.ts'
import { type Doubt, DoubtSettlementInput, type PartInDoubt, PartSettlementInput } from '../contract/doubt.ts'
import { type FoundDoubt, requireDoubt } from '../service/doubts.ts'
import { type DoubtGroup, type InDoubt, inDoubt, vehicleOfDoubt } from '../service/in-doubt.ts'
import { requirePart } from '../service/parts-in-doubt.ts'
import { eachByItself, settleCause, settleDoubt, settledAtOnce, settlePart } from '../service/settle-doubts.ts'
import { cannotSpeak, goodWrenches, wantsWrench } from '../service/settling-word.ts'
import { causeWords } from './cause-words.ts'
import {
  dayWords,
  leftWords,
  SEVERITY_WORDS,
  severityWords,
  thingsWords,
  vehicleFacts,
  vehicleWords,
  whereWords,
} from './words.ts'

/** Ready answers; a person may write another. */
const DONE_ANSWERS = [
  'All fasteners tightened again with a good wrench',
  'Fasteners replaced by new ones and tightened',
  'Torque checked: none of them moved',
]
const LOOKED = 'Looked at: marks and stripe stand as they were made'
const CAUSE_ANSWERS = ['Checked again: it was never outside its limits', 'The maker has taken its warning back']

/** The forms that settle one joint, one part, or all that a cause has put in doubt. */
export function settlePages(pages: Pages): void {
  const roles = ['technician' as const]
  const contract = PartSettlementInput
  pageForm(pages, {
    url: '/in-doubt/joints/:id',
    roles,
    contract: DoubtSettlementInput,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, form, pages.habits().time_zone),
    submit(ctx, input, { params }) {
      const { as } = settleDoubt(ctx, params.id, input)
      const notice =
        as === 'technician'
          ? 'Written down. Safety hangs on this joint: a second person looks and settles it.'
          : 'Settled. It stays in the history of the vehicle.'
      return { to: '/in-doubt', notice }
    },
  })
  pageForm(pages, {
    url: '/in-doubt/parts/:id',
    roles,
    contract,
    page: (ctx, { params, form }) => partPage(ctx, params.id, form, pages.habits().time_zone),
    submit(ctx, input, { params }) {
      settlePart(ctx, params.id, input)
      return { to: '/in-doubt', notice: 'Settled. It stays in the history of the vehicle.' }
    },
  })
  pageForm(pages, {
    url: '/in-doubt/causes/:id',
    roles,
    contract,
    page: (ctx, { params, form }) => causePage(ctx, params.id, form, pages.habits().time_zone),
    submit(ctx, input, { params }) {
      const { cause } = requireGroup(ctx, params.id).group
      const done = settleCause(ctx, { ...input, cause: cause.cause, cause_id: cause.id })
      const waiting = done.settlements.filter(({ as }) => as === 'technician').length
      const count = done.settlements.length - waiting + done.part_settlements.length
      const more =
        waiting === 0 ? '' : ` Written down of ${waiting} on which safety hangs: a second person settles these.`
      return { to: '/in-doubt', notice: `Settled: ${count} at once.${more}` }
    },
  })
}

function jointPage(ctx: Context, id: string, form: FormState, timeZone: string): PageAnswer {
  const found = requireDoubt(ctx, id)
  const { doubt, cause } = found
  const vehicle = vehicleOfDoubt(ctx, found)
  const refused = doubt.settled === null ? cannotSpeak(ctx, doubt) : null
  const wantsCheck = doubt.settled === null && wantsWrench(ctx, found)
  return {
    template: 'fastening/settle',
    sheet: {
      title: `Settle: ${doubt.joint_name}`,
      sheet_number: SEVERITY_WORDS[doubt.severity],
      subject: vehicleWords(vehicle),
      nav: 'in-doubt',
    },
    view: {
      facts: [
        { label: 'If it fails', value: SEVERITY_WORDS[doubt.severity], chief: true },
        ...vehicleFacts(vehicle),
        { label: 'Tightened', value: whereWords(doubt, timeZone) },
      ],
      ...said(doubt, causeWords(cause, timeZone).known, timeZone),
      caution: refused ?? safetyWords(found, wantsCheck),
      joints: null,
      ...asked(form, answersFor(doubt), refused === null ? `/in-doubt/joints/${id}` : null, 'Settle'),
      checked_with: wantsCheck ? wrenchField(ctx, form) : null,
    },
  }
}

/** What safety asks for: that the joint was done anew or its torque checked, and two people. */
function safetyWords({ doubt }: FoundDoubt, wantsCheck: boolean): string | null {
  if (doubt.severity !== 'safety') return null
  const { waits_for_second_person: first } = doubt
  if (first !== null)
    return `Safety hangs on this joint. It has been said of it: ${first.how.replace(/\.$/, '')}. Look at it yourself; your word settles it.`
  const proof = wantsCheck
    ? 'To look is not enough: check its torque, or tighten it anew (with new fasteners where these are in doubt), and say with which wrench.'
    : 'It was done anew since.'
  return `Safety hangs on this joint: look at it before anyone drives the vehicle. ${proof} A second person then settles it with you.`
}

function answersFor({ severity, waits_for_second_person: first }: Doubt): string[] {
  if (severity !== 'safety') return [...DONE_ANSWERS, LOOKED]
  return first === null ? DONE_ANSWERS : [LOOKED]
}

/** The wrenches that prove something today. */
function wrenchField(ctx: Context, form: FormState) {
  const choices = goodWrenches(ctx).map(({ id, name }) => ({ value: id, label: `Wrench ${name}` }))
  return form.fields({ choices: { checked_with: choices } }).checked_with!
}

function partPage(ctx: Context, id: string, form: FormState, timeZone: string): PageAnswer {
  const found = requirePart(ctx, id)
  const vehicle = vehicleOfDoubt(ctx, found)
  return {
    template: 'fastening/settle',
    sheet: { title: 'Settle: a fitted part', subject: vehicleWords(vehicle), nav: 'in-doubt' },
    view: {
      facts: [...vehicleFacts(vehicle), { label: 'Fitted', value: whereWords(found.part, timeZone) }],
      ...said(found.part, '', timeZone),
      caution: null,
      joints: null,
      ...asked(form, ['Looked at: it is sound', 'Replaced by one of another batch'], `/in-doubt/parts/${id}`, 'Settle'),
    },
  }
}

function causePage(ctx: Context, id: string, form: FormState, timeZone: string): PageAnswer {
  const { group, vehicles } = requireGroup(ctx, id)
  const { cause, parts } = group
  const { known, caution } = causeWords(cause, timeZone)
  const atOnce = settledAtOnce(ctx, cause, group.joints)
  const joints = cause.tool === null ? atOnce : group.joints
  const left = group.joints.length - joints.length
  const action = atOnce.length + parts.length > 0 ? `/in-doubt/causes/${id}` : null
  return {
    template: 'fastening/settle',
    sheet: {
      title: left === 0 ? 'Settle all at once' : 'Settle at once',
      sheet_number: thingsWords(joints.length, parts.length),
      subject: cause.what,
      nav: 'in-doubt',
    },
    view: {
      facts: [],
      sentence: known,
      settled: null,
      caution: left === 0 ? caution : eachByItself(left),
      joints: coveredTable({ cause, joints, parts }, vehicles, timeZone),
      ...asked(form, CAUSE_ANSWERS, action, left === 0 ? 'Settle all of them' : 'Settle these'),
    },
  }
}

/** 404 when nothing is open because of it. */
function requireGroup(ctx: Context, causeId: string): { group: DoubtGroup; vehicles: InDoubt['vehicles'] } {
  const { open, vehicles } = inDoubt(ctx)
  const group = open.find(({ cause }) => cause.id === causeId)
  if (group === undefined) throw notFound('open doubt because of', causeId)
  return { group, vehicles }
}

function coveredTable({ joints, parts }: DoubtGroup, vehicles: InDoubt['vehicles'], timeZone: string) {
  const row = (joint: string, fails: Words, each: Doubt | PartInDoubt): Row => {
    const vehicle = vehicles.get(each.vehicle_id)!
    return {
      cells: [{ text: joint, notes: [whereWords(each, timeZone)] }, fails, vehicleWords(vehicle), leftWords(vehicle)],
    }
  }
  return table({
    columns: [column('Joint'), column('If it fails'), column('Vehicle'), column('Left', 'date')],
    rows: [
      ...joints.map(doubt => row(doubt.joint_name, severityWords(doubt.severity), doubt)),
      ...parts.map(part => row('part fitted, no joint named', 'not known', part)),
    ],
  })
}

function said(
  doubt: { sentence: string; settled: { how: string; at: string } | null },
  known: string,
  timeZone: string,
): { sentence: string; settled: string | null } {
  const { settled } = doubt
  return {
    sentence: known === '' ? doubt.sentence : `${doubt.sentence} ${known}`,
    settled:
      settled === null ? null : `Settled on ${dayWords(settled.at, timeZone)}: ${settled.how.replace(/\.$/, '')}.`,
  }
}

/** `action` is null where it cannot be settled so. */
function asked(form: FormState, answers: readonly string[], action: string | null, button: string) {
  const fields = form.fields()
  return {
    fields: { ...fields, how: { ...fields.how!, list: 'answers' } },
    checked_with: null,
    answers,
    action,
    button,
  }
}
