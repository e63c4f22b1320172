import { z } from 'zod'
import { namesOfPeople, settingsOf } from '../../../../accounts/index.ts'
import { TORQUE_UNITS } from '../../../../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS } from '../../../../core/words.ts'
import { TorqueRecordInput } from '../../../../fastening/contract.ts'
import { recordTorque } from '../../../../fastening/index.ts'
import type { Context } from '../../../../platform/context.ts'
import { Line } from '../../../../platform/contract.ts'
import { pageForm } from '../../../../platform/http/page-route.ts'
import type { Pages } from '../../../../platform/http/pages.ts'
import { ref, words } from '../../../../platform/pages/words.ts'
import { notFound } from '../../../../platform/problems.ts'
import { jointAtBench } from '../../../service/bench/joint.ts'
import { isByAngle } from '../words.ts'
import { subjectOf } from './page.ts'
import { recordWords } from './records.ts'

const Correction = z.strictObject({
  value: z.number().positive().max(5000).meta({ title: 'What it was', classes: 'short' }),
  unit: TorqueRecordInput.shape.unit,
  reason: Line.meta({ title: 'Why it is put right' }),
})

/** A record is put right by a new one that says why; the form begins with what was typed then. */
export function correctionPage(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id/records/:record_id',
    contract: Correction,
    initial(ctx, { params }) {
      const { record } = recordOf(ctx, params)
      const { value, unit } = record
      return { values: { ...(value !== null && { value }), unit: unit ?? settingsOf(ctx).torque_unit } }
    },
    page(ctx, { params, form }) {
      const { sheet, record, byAngle } = recordOf(ctx, params)
      const { time_zone } = settingsOf(ctx)
      const who = record.created_by === null ? 'somebody' : (namesOfPeople(ctx).get(record.created_by) ?? 'somebody')
      const units = byAngle
        ? [{ value: 'deg', label: 'degrees' }]
        : TORQUE_UNITS.map(unit => ({ value: unit, label: TORQUE_UNIT_WORDS[unit] }))
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
          fields: form.fields({ choices: { unit: units } }),
          was: `${sheet.joint.row.joint.name}, ${recordWords(sheet, record, time_zone)}, by ${who}.`,
          action: `/bench/joints/${params.id}/records/${params.record_id}`,
          back: `/bench/joints/${params.id}`,
        },
      }
    },
    submit(ctx, { value, unit, reason }, { params }) {
      const { record, byAngle } = recordOf(ctx, params)
      const { wrench_id, gauge_id, adapter_id, adapter_angle_deg, wrench_note } = record
      recordTorque(ctx, params.id, {
        position: record.position,
        stage: record.stage,
        fastener: record.fastener,
        value,
        unit: byAngle ? 'deg' : (unit ?? record.unit ?? 'N.m'),
        basis: record.basis ?? 'measured',
        ...(wrench_id !== null && { wrench_id }),
        ...(wrench_note !== null && { wrench_note }),
        ...(gauge_id !== null && { gauge_id }),
        ...(adapter_id !== null && { adapter_id }),
        ...(adapter_angle_deg !== null && { adapter_angle_deg }),
        made_at: new Date(record.made_at).toISOString(),
        supersedes: record.id,
        reason,
      })
      return { to: `/bench/joints/${params.id}#records`, notice: 'Put right. The old record stays beside it.' }
    },
  })
}

function recordOf(ctx: Context, params: { id: string; record_id: string }) {
  const sheet = jointAtBench(ctx, params.id, {})
  const record = sheet.joint.records.find(candidate => candidate.id === params.record_id)
  if (record === undefined) throw notFound('record', params.record_id)
  return { sheet, record, byAngle: isByAngle(sheet.joint.row.revision.stages[record.stage - 1]!.kind) }
}
