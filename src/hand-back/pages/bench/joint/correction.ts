import { z } from 'zod'
import { namesOfPeople, settingsOf } from '../../../../accounts/index.ts'
import { TORQUE_UNITS } from '../../../../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS } from '../../../../core/words.ts'
import { TorqueRecordInput } from '../../../../fastening/contract.ts'
import { recordTorque } from '../../../../fastening/index.ts'
import type { Context } from '../../../../platform/context.ts'
import { Line } from '../../../../platform/contract.ts'
import { formOnPage } from '../../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../../platform/http/form-state.ts'
import { pagePost, pageRead } from '../../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../../platform/http/pages.ts'
import { ref, words } from '../../../../platform/pages/words.ts'
import { invalid, notFound } from '../../../../platform/problems.ts'
import { jointAtBench } from '../../../service/bench/joint.ts'
import { isByAngle, nameIn } from '../words.ts'
import { askBeyondWrench, BeyondWrench } from './beyond-wrench.ts'
import { subjectOf } from './page.ts'
import { typedReading } from './reading.ts'
import { recordWords } from './records.ts'

const reason = Line.meta({ title: 'Why it is put right' })

/** It showed something else. */
const OtherReading = z.strictObject({
  value: z.string().max(50).meta({ title: 'What it was', classes: 'short' }),
  unit: TorqueRecordInput.shape.unit,
  beyond_wrench: BeyondWrench,
  reason,
})

/** It was on another fastener: the same reading there, and nothing here. */
const OtherFastener = z.strictObject({
  position: TorqueRecordInput.shape.position.meta({ title: 'It was on' }),
  reason,
})

/** It was not done at all. */
const NotDone = z.strictObject({ reason })

type Back = { of: 'reading' | 'fastener' | 'not-done'; form: FormState } | null
type Params = { id: string; record_id: string }

/** A record is put right by a new one that says why: another reading, another fastener, or that it was not done. */
export function correctionPage(pages: Pages): void {
  const url = '/bench/joints/:id/records/:record_id'
  pageRead(pages, { url, handle: (ctx, { params }) => page(pages, ctx, params, null) })
  pagePost(pages, {
    url,
    contract: OtherReading,
    page: (ctx, { params, form }) => page(pages, ctx, params, { of: 'reading', form }),
    submit(ctx, typed, { params }) {
      const { record, byAngle } = recordOf(ctx, params)
      const unit = byAngle ? 'deg' : (typed.unit ?? record.unit ?? 'N.m')
      const read = typedReading(typed.value, { unit })
      if ('refused' in read) throw invalid({ pointer: '/value', detail: read.refused, code: 'does_not_fit' })
      const { value } = read
      askBeyondWrench(ctx, { ...toolsOf(record), value, unit }, typed.beyond_wrench)
      recordTorque(ctx, params.id, { ...toolsOf(record), ...putsRight(record, typed.reason), value, unit })
      return { to: `/bench/joints/${params.id}#records`, notice: 'Put right. The old record stays beside it.' }
    },
  })
  pagePost(pages, {
    url: `${url}/other-fastener`,
    contract: OtherFastener,
    page: (ctx, { params, form }) => page(pages, ctx, params, { of: 'fastener', form }),
    submit(ctx, { position, reason }, { params }) {
      const { record, sheet } = recordOf(ctx, params)
      const { fastener: _, ...same } = putsRight(record, reason)
      const { value, unit, event } = record
      const said = event === null ? { ...toolsOf(record), value: value ?? 0, unit: unit ?? 'N.m' } : { event }
      recordTorque(ctx, params.id, { ...same, ...said, position })
      const [was, is] = [sheet.numbers[record.position - 1], sheet.numbers[position - 1]]
      return {
        to: `/bench/joints/${params.id}#records`,
        notice: `Put right: it was on fastener ${is}, not on ${was}. The old record stays beside it.`,
      }
    },
  })
  pagePost(pages, {
    url: `${url}/not-done`,
    contract: NotDone,
    page: (ctx, { params, form }) => page(pages, ctx, params, { of: 'not-done', form }),
    submit(ctx, { reason }, { params }) {
      const { record } = recordOf(ctx, params)
      recordTorque(ctx, params.id, { ...putsRight(record, reason), withdrawn: true })
      return { to: `/bench/joints/${params.id}#records`, notice: 'Put right: it was not done. The old record stays.' }
    },
  })
}

function page(pages: Pages, ctx: Context, params: Params, back: Back): PageAnswer {
  const { sheet, record, byAngle } = recordOf(ctx, params)
  const { time_zone, torque_unit } = settingsOf(ctx)
  const action = `/bench/joints/${params.id}/records/${params.record_id}`
  const units = byAngle
    ? [{ value: 'deg', label: 'degrees' }]
    : TORQUE_UNITS.map(unit => ({ value: unit, label: TORQUE_UNIT_WORDS[unit] }))
  const others = sheet.numbers
    .map((number, at) => ({ number, position: at + 1 }))
    .filter(({ position }) => position !== record.position)
    .sort((one, other) => one.number - other.number)
    .map(({ number, position }) => ({ value: String(position), label: `Fastener ${number}` }))
  const on = (of: NonNullable<Back>['of'], contract: z.ZodType) =>
    formOnPage(pages, contract, of, back?.of === of ? back.form : null)
  const { value, unit } = record
  const began = { ...(value !== null && { value: String(value) }), unit: unit ?? torque_unit }
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
      was: `${sheet.joint.row.joint.name}, ${recordWords(sheet, record, time_zone)}, by ${nameIn(namesOfPeople(ctx))(record.created_by)}.`,
      reading: {
        action,
        fields: on('reading', OtherReading).fields(began, { unit: units }),
        is_beyond: back?.form.errors.beyond_wrench !== undefined,
      },
      fastener:
        others.length === 0 || record.withdrawn
          ? null
          : {
              action: `${action}/other-fastener`,
              fields: on('fastener', OtherFastener).fields({}, { position: others }),
            },
      not_done: record.withdrawn ? null : { action: `${action}/not-done`, fields: on('not-done', NotDone).fields({}) },
      back: `/bench/joints/${params.id}`,
    },
  }
}

type RecordRow = ReturnType<typeof recordOf>['record']

/** What stays the same in a record that puts another right. */
function putsRight(record: RecordRow, why: string) {
  const { position, stage, fastener } = record
  const made_at = new Date(record.made_at).toISOString()
  return { position, stage, fastener, made_at, supersedes: record.id, reason: why }
}

function toolsOf({ basis, wrench_id, wrench_note, gauge_id, adapter_id, adapter_angle_deg }: RecordRow) {
  return {
    basis: basis ?? ('measured' as const),
    ...(wrench_id !== null && { wrench_id }),
    ...(wrench_note !== null && { wrench_note }),
    ...(gauge_id !== null && { gauge_id }),
    ...(adapter_id !== null && { adapter_id }),
    ...(adapter_angle_deg !== null && { adapter_angle_deg }),
  }
}

function recordOf(ctx: Context, params: Params) {
  const sheet = jointAtBench(ctx, params.id, {})
  const record = sheet.joint.records.find(candidate => candidate.id === params.record_id)
  if (record === undefined) throw notFound('record', params.record_id)
  return { sheet, record, byAngle: isByAngle(sheet.joint.row.revision.stages[record.stage - 1]!.kind) }
}
