import { z } from 'zod'
import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { firstGoodAfter } from '../../core/fastening/known-good.ts'
import { counted } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { Id } from '../../platform/contract.ts'
import { typedOf } from '../../platform/http/form-on-page.ts'
import { pageForm } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { mayBeLeftOut } from '../../platform/pages/field.ts'
import { plainText } from '../../platform/pages/words.ts'
import { invalid } from '../../platform/problems.ts'
import { toInstant } from '../../platform/wire.ts'
import { CalibrationInput, type Withdrawal, WithdrawalInput } from '../contract.ts'
import type { ToolUse } from '../service/use.ts'
import { calibrationsOfWrench, recordCalibration, withdrawWrench } from '../service/wrench-records.ts'
import { wrenchById } from '../service/wrenches.ts'
import { doubtWords } from './shared.ts'

const WITHDRAWAL_ANSWERS = ['It fell', 'It was turned beyond its range', 'Something is wrong with it']

/** It happened just now, or at a time that is said: an hour that nobody typed would settle what comes into doubt. */
const WithdrawalForm = z.strictObject({
  at: WithdrawalInput.shape.at.optional().meta({ title: 'When it happened', classes: 'medium' }),
  reason: WithdrawalInput.shape.reason,
  just_now: z.boolean().optional(),
  joint_id: Id.optional().meta({ input: 'hidden' }),
})

/** A certificate has points at a fifth, three fifths and the whole of the range as a rule (ISO 6789); some have more. */
const USUAL_POINTS = 5

/** As the contract; a form without any point sends no list. */
const CalibrationForm = z.strictObject({ ...CalibrationInput.shape, points: CalibrationInput.shape.points.optional() })

/** What is added to a wrench and never changed: a certificate, and a time from which it is out of use. */
export function recordPages(pages: Pages, use: ToolUse): void {
  pageForm(pages, {
    url: '/tools/wrenches/:id/calibrations/new',
    roles: ['technician'],
    contract: CalibrationForm,
    page(ctx, { params, form }) {
      const { name } = wrenchById(ctx, params.id)
      const count = form.rows('points', USUAL_POINTS)
      const rows = Array.from({ length: count }, (_, row) => mayBeLeftOut(form.fields({ at: ['points', row] })))
      return {
        template: 'tools/calibration-form',
        sheet: { title: `Calibration of ${name}`, nav: 'wrenches' },
        view: { fields: form.fields(), points: rows, address: `/tools/wrenches/${params.id}` },
      }
    },
    submit(ctx, input, { params }) {
      const { id, found } = recordCalibration(ctx, params.id, { ...input, points: input.points ?? [] })
      const doubt = found === 'good' ? '' : ` Since it was last known good: ${doubtSaid(ctx, use, id)}.`
      return { to: `/tools/wrenches/${params.id}`, notice: `The certificate is in the register.${doubt}` }
    },
  })

  pageForm(pages, {
    url: '/tools/wrenches/:id/withdrawals/new',
    roles: ['technician'],
    contract: WithdrawalForm,
    initial: (_ctx, { query }) => ({ values: { joint_id: query.joint } }),
    page: (ctx, { params, form }) => ({
      template: 'tools/withdrawal-form',
      sheet: { title: `Take ${wrenchById(ctx, params.id).name} out of use`, nav: 'wrenches', at_bench: true },
      view: {
        fields: form.fields(),
        answers: WITHDRAWAL_ANSWERS,
        joint_id: typedOf(form.typed, 'joint_id'),
        address: `/tools/wrenches/${params.id}`,
        touched: touchedSinceGood(ctx, use, params.id),
      },
    }),
    submit(ctx, { just_now, joint_id, at, reason }, { params }) {
      const { name } = wrenchById(ctx, params.id)
      const since = at ?? (just_now === true ? toInstant(ctx.clock.now()) : undefined)
      if (since === undefined) throw invalid({ pointer: '/at', detail: 'Say when it happened.', code: 'missing' })
      const withdrawal = withdrawWrench(ctx, params.id, { at: since, reason })
      const to = joint_id === undefined ? `/tools/wrenches/${params.id}` : `/bench/joints/${joint_id}#now`
      return { to, notice: withdrawalNotice(ctx, use, name, withdrawal) }
    },
  })
}

function doubtSaid(ctx: Context, use: ToolUse, causeId: string): string {
  return plainText(doubtWords(use.doubtsByCause(ctx).get(causeId), null))
}

/** A drop that is entered late may lie before a certificate that found the wrench good: then nothing follows from it. */
function withdrawalNotice(ctx: Context, use: ToolUse, name: string, withdrawal: Withdrawal): string {
  const good = goodAfter(ctx, withdrawal)
  const doubt = use.doubtsByCause(ctx).get(withdrawal.id)
  const said = plainText(doubtWords(doubt, good))
  return good === null ? `${name} is out of use until a good calibration: ${said}.` : `It is noted: ${said}.`
}

function goodAfter(ctx: Context, { id, wrench_id, at, created_at }: Withdrawal): string | null {
  const { time_zone } = settingsOf(ctx)
  const checks = calibrationsOfWrench(ctx, wrench_id).map(check => ({
    ...check,
    created_at: Date.parse(check.created_at),
  }))
  const drop = { id, on: localDateOf(Date.parse(at), time_zone), created_at: Date.parse(created_at) }
  return firstGoodAfter(checks, drop)?.made_on ?? null
}

/** Said before it is sent: how much hangs on the time of the drop. */
function touchedSinceGood(ctx: Context, use: ToolUse, wrenchId: string): string {
  const good = calibrationsOfWrench(ctx, wrenchId).find(({ found }) => found === 'good')
  if (good === undefined)
    return `It has no good certificate; it was used on ${joints(use.jointsSince(ctx, wrenchId, ''))}.`
  return `Since its good certificate of ${longDay(good.made_on)} it was used on ${joints(use.jointsSince(ctx, wrenchId, good.made_on))}; those since the drop come into doubt.`
}

const joints = (count: number) => counted(count, 'joint')
