import { settingsOf } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import { firstGoodAfter } from '../../core/fastening/known-good.ts'
import { listed } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import type { Words } from '../../platform/pages/words.ts'
import { type Calibration, type Withdrawal, type Wrench, WrenchInput } from '../contract.ts'
import {
  classInWords,
  deviationInWords,
  KIND_WORDS,
  leftInWords,
  rangeInWords,
  standingInWords,
} from '../rules/words.ts'
import { today, type WrenchState, wrenchState } from '../service/state.ts'
import type { DoubtCount, ToolUse } from '../service/use.ts'
import { calibrationsOfWrench, withdrawalsOfWrench } from '../service/wrench-records.ts'
import { registerWrench, updateWrench, wrenchById } from '../service/wrenches.ts'
import { doubtWords, isOwner, mayRecord, usesTable } from './shared.ts'

export function wrenchPages(pages: Pages, use: ToolUse): void {
  pageForm(pages, {
    url: '/tools/wrenches/new',
    roles: [],
    contract: WrenchInput,
    page: (_ctx, { form }) => ({
      template: 'tools/wrench-form',
      sheet: { title: 'Add a wrench', nav: 'wrenches' },
      view: { fields: form.fields(), action: '/tools/wrenches/new', button: 'Add', back: '/tools' },
    }),
    submit(ctx, input) {
      const { id } = registerWrench(ctx, input)
      return { to: `/tools/wrenches/${id}`, notice: `${input.name} is in the register. Add its certificate next.` }
    },
  })

  pageRead(pages, {
    url: '/tools/wrenches/:id',
    handle(ctx, { params }) {
      const wrench = wrenchById(ctx, params.id)
      const state = wrenchState(ctx, wrench.id, today(ctx), use.cyclesSince(ctx))!
      const doubts = use.doubtsByCause(ctx)
      const calibrations = calibrationsOfWrench(ctx, wrench.id)
      return {
        template: 'tools/wrench',
        sheet: { title: `Wrench ${wrench.name}`, sheet_title: 'Wrench', nav: 'wrenches', sheet_number: wrench.name },
        view: {
          facts: facts(wrench, state),
          calibrations: calibrationsTable(calibrations, doubts),
          withdrawals: withdrawalsTable(ctx, withdrawalsOfWrench(ctx, wrench.id), calibrations, doubts),
          uses: usesTable(use.usesByMonth(ctx, wrench.id), 'Cycles'),
          address: `/tools/wrenches/${wrench.id}`,
          may_record: mayRecord(ctx),
          may_edit: isOwner(ctx),
        },
      }
    },
  })

  pageForm(pages, {
    url: '/tools/wrenches/:id/edit',
    roles: [],
    contract: WrenchInput,
    initial(ctx, { params }) {
      const { version, ...wrench } = wrenchById(ctx, params.id)
      return { values: wrench, version }
    },
    page(ctx, { params, form }) {
      const back = `/tools/wrenches/${params.id}`
      return {
        template: 'tools/wrench-form',
        sheet: { title: `Put right: ${wrenchById(ctx, params.id).name}`, nav: 'wrenches' },
        view: { fields: form.fields(), action: `${back}/edit`, button: 'Put right', back },
      }
    },
    submit(ctx, input, { params, version }) {
      updateWrench(ctx, params.id, version, patchFromForm(WrenchInput, input))
      return { to: `/tools/wrenches/${params.id}`, notice: 'Put right.' }
    },
  })
}

function facts(wrench: Wrench, { wrench: known, due_on, left, trouble }: WrenchState) {
  const { scale_division_nm: division, length_mm: length } = wrench
  const due: { label: string; value: Words; note?: Words } = {
    label: 'Calibration due',
    value: due_on === null ? 'none runs' : shortDay(due_on),
    ...(left !== null && { note: `${leftInWords(left)} left` }),
  }
  return [
    { label: 'Today', value: standingInWords(trouble, due_on, left), chief: true },
    due,
    { label: 'Range', value: rangeInWords(wrench) },
    { label: 'Kind', value: KIND_WORDS[wrench.kind] },
    { label: 'Class after ISO 6789', value: classInWords(known) },
    { label: 'One division', value: division === undefined ? 'not said' : `${division} N·m` },
    {
      label: 'Length, drive to grip mark',
      value: length === undefined ? 'not said: no adapter can be put on it' : `${length} mm`,
    },
  ]
}

const FOUND_WORDS = { good: 'good', outside: 'outside its limits' } as const

function calibrationsTable(calibrations: Calibration[], doubts: Map<string, DoubtCount>) {
  return table({
    columns: [
      column('Made on', 'date'),
      column('Certificate'),
      column('Found'),
      column('Uncertainty U', 'reads', 'k = 2'),
      column('Against the reference'),
    ],
    rows: calibrations.map(({ id, made_on, certificate, found, points }) => ({
      cells: [
        shortDay(made_on),
        certificate,
        found === 'good' ? FOUND_WORDS.good : { text: FOUND_WORDS.outside, notes: [doubtWords(doubts.get(id), null)] },
        points.map(({ at_nm, uncertainty_nm }) => `${uncertainty_nm} at ${at_nm} N·m`).join('; ') || 'not stated',
        { notes: deviations(points) },
      ],
    })),
    empty: 'No certificate yet.',
  })
}

/** Which way the joints went, by the points that state what the reference showed; points that say the same are said together. */
function deviations(points: Calibration['points']): Words[] {
  const said = new Map<string, string[]>()
  for (const { at_nm, reference_nm } of points) {
    if (reference_nm === undefined) continue
    const way = deviationInWords(at_nm, reference_nm)
    said.set(way, [...(said.get(way) ?? []), String(at_nm)])
  }
  return [...said].map(([way, at]) => `At ${listed(at)} N·m it ${way}`)
}

function withdrawalsTable(
  ctx: Context,
  withdrawals: Withdrawal[],
  calibrations: Calibration[],
  doubts: Map<string, DoubtCount>,
) {
  const { time_zone } = settingsOf(ctx)
  const checks = calibrations.map(check => ({ ...check, created_at: Date.parse(check.created_at) }))
  return table({
    columns: [column('Since', 'date'), column('Reason'), column('What that means')],
    rows: withdrawals.map(({ id, at, created_at, reason }) => {
      const ms = Date.parse(at)
      const on = localDateOf(ms, time_zone)
      const good = firstGoodAfter(checks, { id, on, created_at: Date.parse(created_at) })?.made_on ?? null
      return {
        cells: [{ text: shortDay(on), notes: [localTimeOf(ms, time_zone)] }, reason, doubtWords(doubts.get(id), good)],
      }
    }),
    empty: 'It has never been taken out of use.',
  })
}
