import { z } from 'zod'
import { namesOfPeople, settingsOf } from '../../../accounts/index.ts'
import { localTimeOf } from '../../../core/calendar.ts'
import { SignOffInput, TorqueRecordInput } from '../../../fastening/contract.ts'
import { mayLookAgain, recordTorque, signOffJoint, standingSignatures } from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { Line } from '../../../platform/contract.ts'
import type { FormState } from '../../../platform/http/form-state.ts'
import { pageForm, pagePost } from '../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../platform/http/pages.ts'
import type { Action } from '../../../platform/pages/actions.ts'
import { plate, ref, words } from '../../../platform/pages/words.ts'
import { invalid, notFound } from '../../../platform/problems.ts'
import { type JointAtBench, jointAtBench } from '../../service/bench/joint.ts'
import {
  atHandView,
  eventActions,
  jointFacts,
  patternOf,
  recordsTable,
  recordWords,
  wrenchTable,
} from './joint-view.ts'
import { OUT_OF_ORDER_ANSWERS } from './words.ts'

const Asked = z.object({
  position: z.coerce.number().int().positive().optional().catch(undefined),
  wrench_id: z.string().optional().catch(undefined),
  records: z.literal('all').optional().catch(undefined),
})

/** How many records the bench shows before it is asked for all. */
const NEWEST = 6

/** The drawn joint: record fastener by fastener, say what happened, sign. */
export function jointPages(pages: Pages): void {
  const sheetUrl = '/bench/joints/:id'
  pageForm(pages, {
    url: sheetUrl,
    contract: TorqueRecordInput,
    page: (ctx, { params, query, form }) =>
      jointPage(ctx, params.id, Asked.parse({ ...query, ...askedAgain(form) }), form),
    submit(ctx, input, { params }) {
      askWhyOutOfTurn(ctx, params.id, input)
      const record = recordTorque(ctx, params.id, input)
      const wrench = record.wrench_id === undefined ? '' : `?wrench_id=${record.wrench_id}`
      return {
        to: `/bench/joints/${params.id}${wrench}`,
        ...(record.verdict !== 'conforms' && record.verdict !== 'as_set' && { notice: refusalWords(record.verdict) }),
      }
    },
  })
  pagePost(pages, {
    url: '/bench/joints/:id/events',
    contract: TorqueRecordInput,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form),
    submit(ctx, input, { params }) {
      recordTorque(ctx, params.id, input)
      return { to: `/bench/joints/${params.id}` }
    },
  })
  pagePost(pages, {
    url: '/bench/joints/:id/sign-offs',
    contract: SignOffInput,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form),
    submit(ctx, input, { params }) {
      signOffJoint(ctx, params.id, input)
      const sheet = jointAtBench(ctx, params.id, {})
      return { to: `/bench/jobs/${sheet.joint.row.job.id}`, notice: `${sheet.joint.row.joint.name}: signed.` }
    },
  })
  correctionPage(pages)
}

/** Where order matters, another fastener than the next is recorded with its reason; nobody's tap chooses one for them. */
function askWhyOutOfTurn(ctx: Context, jointId: string, { position, out_of_order_reason }: TorqueRecordInput): void {
  if (out_of_order_reason !== undefined) return
  const next = jointAtBench(ctx, jointId, {}).at_hand
  if (next === null || next.position === position) return
  throw invalid({
    pointer: '/out_of_order_reason',
    detail: `Fastener ${next.number} is next. Say why it is another one’s turn.`,
    code: 'missing',
  })
}

/** A reading that came back with a fault is shown at the same fastener and wrench. */
function askedAgain(form: FormState) {
  return {
    ...(form.typed.position !== undefined && { position: form.typed.position }),
    ...(form.typed.wrench_id !== undefined && { wrench_id: form.typed.wrench_id }),
  }
}

function refusalWords(verdict: string | null): string {
  return verdict === 'unsure'
    ? 'Recorded as unsure: too near a limit for this tool to tell, or the tool’s uncertainty is not known. It must be done again.'
    : 'Recorded as outside its limits. It must be dealt with before the joint can be signed.'
}

function subjectOf({ vehicle, joint }: JointAtBench) {
  return words(
    ...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']),
    `${vehicle.family}${vehicle.variant === undefined ? '' : `, ${vehicle.variant}`} · ${joint.row.job.task}`,
  )
}

function jointPage(ctx: Context, jointId: string, asked: z.output<typeof Asked>, form: FormState): PageAnswer {
  const sheet = jointAtBench(ctx, jointId, asked)
  const { joint, at_hand } = sheet
  const settings = settingsOf(ctx)
  const { revision } = joint.row
  const isOpen = joint.row.handed_back_at === null
  const shown = isOpen ? at_hand : null
  const tools = sheet.plan.jobs.flatMap(job => job.tools_in).filter(tool => tool.removed_at === null)
  return {
    template: 'hand-back/joint',
    sheet: {
      title: joint.row.joint.name,
      sheet_number: words(ref(joint.row.order_number), ` ${joint.row.job.letter}`),
      subject: subjectOf(sheet),
      dates: `${revision.severity} joint · ${joint.row.procedure_name}, revision ${revision.revision}`,
      nav: 'bench',
      at_bench: true,
    },
    view: {
      pattern: {
        ...patternOf(sheet, isOpen),
        key: true,
        caption:
          'Positions to scale where the procedure states them; heads all one size. Numbers are the tightening order.',
      },
      at_hand: shown === null ? null : atHandView(shown, revision.stages.length),
      action: `/bench/joints/${jointId}`,
      typed_value: typeof form.typed.value === 'string' ? form.typed.value : '',
      errors: Object.values(form.errors),
      out_of_order:
        shown !== null && !shown.in_turn
          ? OUT_OF_ORDER_ANSWERS.map((answer, at) => ({
              id: at === 0 ? 'out-of-order-reason' : `why-${at}`,
              answer,
            }))
          : null,
      event_actions: shown === null ? [] : eventActions(jointId, shown),
      trouble: troubleWords(sheet),
      wrenches: shown === null ? null : wrenchTable(jointId, shown),
      facts: jointFacts(ctx, sheet),
      tools:
        tools.length === 0
          ? null
          : `${tools.map(tool => `${tool.tool}, since ${localTimeOf(tool.at, settings.time_zone)}`).join('; ')}.`,
      signing: signingView(ctx, sheet, isOpen),
      records: recordsTable(
        sheet,
        namesOfPeople(ctx),
        settings,
        asked.records === 'all' ? joint.records.length : NEWEST,
      ),
      all_records:
        asked.records === 'all' || joint.records.length <= NEWEST
          ? null
          : { href: `/bench/joints/${jointId}?records=all#records`, text: `All ${joint.records.length} records` },
      source: `By ${revision.source}. Use the maker’s current values: the manual governs.`,
      job_href: `/bench/jobs/${joint.row.job.id}`,
    },
  }
}

/** Readings that must be dealt with, each with what the procedure asks for. */
function troubleWords({ joint, numbers }: JointAtBench): string[] {
  return joint.state.fasteners
    .filter(fastener => fastener.fault !== null)
    .map(({ position, fault, needs }) => {
      const kinds = {
        outside: 'went outside its limits',
        unsure: 'is unsure',
        not_proven: 'was set with a wrench that cannot prove the tolerance',
        slipped: 'slipped',
        broke: 'broke',
        angle_not_known: 'has an angle that nobody knows',
        out_of_turn: 'was recorded out of its turn',
        joint_redone: 'is done again with the whole joint',
      }
      const todo =
        needs === 'replace' ? 'Take it out, fit a new one, all stages again.' : 'Loosen it, all stages again.'
      return `Fastener ${numbers[position - 1]} ${kinds[fault!.kind]} at stage ${fault!.stage}. ${todo}`
    })
}

function signingView(ctx: Context, { joint }: JointAtBench, isOpen: boolean) {
  const names = namesOfPeople(ctx)
  const isSafety = joint.row.revision.severity === 'safety'
  const standing = standingSignatures(joint.sign_offs, joint.records)
  const people = joint.sign_offs.map(signOff => ({
    name: (signOff.created_by === null ? undefined : names.get(signOff.created_by)) ?? 'somebody',
    signed: standing.some(({ id }) => id === signOff.id),
    says: [
      ...(standing.some(({ id }) => id === signOff.id) ? [] : ['counts no longer: something was recorded after it']),
      signOff.as === 'technician'
        ? 'tightened and signed'
        : 'second person: looked at marks, count and stripe, turned nothing',
    ],
  }))
  const action = (as: 'technician' | 'second_person', label: string): Action => ({
    kind: 'post',
    label,
    main: true,
    action: `/bench/joints/${joint.row.joint.id}/sign-offs`,
    hidden: [{ name: 'as', value: as }],
  })
  const signedFirst = standing.some(signOff => signOff.as === 'technician')
  const mayBeSecond = mayLookAgain(ctx.actor?.id ?? null, joint.sign_offs, joint.records)
  const actions =
    !isOpen || !joint.state.complete || joint.signed
      ? []
      : !(signedFirst && isSafety)
        ? [action('technician', 'Sign off')]
        : mayBeSecond
          ? [action('second_person', 'Sign as second person')]
          : []
  const waits = joint.state.complete && signedFirst && isSafety && !joint.signed
  return {
    heading: joint.signed ? 'Signed' : 'Sign off',
    signed: joint.signed && !isSafety,
    twice: joint.signed && isSafety,
    people,
    actions,
    waits: waits
      ? 'Safety hangs on this joint: another person, with a login of their own, looks at marks, count and stripe, and signs too.'
      : null,
    complete: joint.state.complete,
  }
}

const Correction = z.strictObject({
  value: z.number().positive().max(5000).meta({ title: 'What it was' }),
  reason: Line.meta({ title: 'Why it is put right' }),
})

function correctionPage(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id/records/:record_id',
    contract: Correction,
    page(ctx, { params, form }) {
      const { sheet, record } = recordOf(ctx, params)
      return {
        template: 'hand-back/correction',
        sheet: {
          title: 'Put a record right',
          sheet_number: words(ref(sheet.joint.row.order_number)),
          subject: subjectOf(sheet),
          nav: 'bench',
          at_bench: true,
        },
        view: {
          fields: form.fields(),
          was: `${sheet.joint.row.joint.name}, ${recordWords(sheet, record, settingsOf(ctx))}.`,
          action: `/bench/joints/${params.id}/records/${params.record_id}`,
          back: `/bench/joints/${params.id}`,
        },
      }
    },
    submit(ctx, input, { params }) {
      const { record } = recordOf(ctx, params)
      const isAngle = record.unit === 'deg'
      recordTorque(ctx, params.id, {
        position: record.position,
        stage: record.stage,
        fastener: record.fastener,
        value: input.value,
        unit: record.unit ?? (isAngle ? 'deg' : 'N.m'),
        basis: record.basis ?? 'measured',
        ...(record.wrench_id !== null && { wrench_id: record.wrench_id }),
        made_at: new Date(record.made_at).toISOString(),
        supersedes: record.id,
        reason: input.reason,
      })
      return { to: `/bench/joints/${params.id}`, notice: 'Put right. The old record stays beside it.' }
    },
  })
}

function recordOf(ctx: Context, params: { id: string; record_id: string }) {
  const sheet = jointAtBench(ctx, params.id, {})
  const record = sheet.joint.records.find(candidate => candidate.id === params.record_id)
  if (record === undefined) throw notFound('record', params.record_id)
  return { sheet, record }
}
