import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { shortDay } from '../../core/days.ts'
import type { Context } from '../../platform/context.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, ref, type Words, words } from '../../platform/pages/words.ts'
import { type Calibration, type Withdrawal, type Wrench, WrenchInput } from '../contract.ts'
import {
  allWrenches,
  calibrationsOfWrench,
  registerWrench,
  updateWrench,
  withdrawalsOfWrench,
  wrenchById,
} from '../service/wrenches.ts'
import { KIND_WORDS, rangeInWords, stateInWords } from './words.ts'

export function registerPages(pages: Pages): void {
  pageRead(pages, {
    url: '/wrenches',
    handle(ctx) {
      const all = allWrenches(ctx)
      return {
        template: 'tools/register',
        sheet: {
          title: 'Wrenches',
          nav: 'wrenches',
          sheet_number: all.length === 1 ? 'one wrench' : `${all.length} wrenches`,
        },
        view: { wrenches: all.length === 0 ? null : wrenchesTable(all), may_add: isOwner(ctx) },
      }
    },
  })

  pageForm(pages, {
    url: '/wrenches/new',
    roles: [],
    contract: WrenchInput,
    page: (_ctx, { form }) => ({
      template: 'tools/wrench-form',
      sheet: { title: 'Add a wrench', nav: 'wrenches' },
      view: { fields: form.fields(), action: '/wrenches/new', button: 'Add', back: '/wrenches' },
    }),
    submit(ctx, input) {
      const { id } = registerWrench(ctx, input)
      return { to: `/wrenches/${id}`, notice: `${input.name} is in the register. Add its certificate next.` }
    },
  })

  pageRead(pages, {
    url: '/wrenches/:id',
    handle(ctx, { params }) {
      const wrench = wrenchById(ctx, params.id)
      return {
        template: 'tools/wrench',
        sheet: { title: `Wrench ${wrench.name}`, sheet_title: 'Wrench', nav: 'wrenches', sheet_number: wrench.name },
        view: {
          facts: facts(wrench),
          calibrations: calibrationsTable(calibrationsOfWrench(ctx, wrench.id)),
          withdrawals: withdrawalsTable(ctx, withdrawalsOfWrench(ctx, wrench.id)),
          address: `/wrenches/${wrench.id}`,
          may_record: ctx.actor?.role !== 'desk',
          may_edit: isOwner(ctx),
        },
      }
    },
  })

  pageForm(pages, {
    url: '/wrenches/:id/edit',
    roles: [],
    contract: WrenchInput,
    initial(ctx, { params }) {
      const { version, ...wrench } = wrenchById(ctx, params.id)
      return { values: wrench, version }
    },
    page(ctx, { params, form }) {
      const back = `/wrenches/${params.id}`
      return {
        template: 'tools/wrench-form',
        sheet: { title: `Put right: ${wrenchById(ctx, params.id).name}`, nav: 'wrenches' },
        view: { fields: form.fields(), action: `${back}/edit`, button: 'Put right', back },
      }
    },
    submit(ctx, input, { params, version }) {
      updateWrench(ctx, params.id, version, patchFromForm(WrenchInput, input))
      return { to: `/wrenches/${params.id}`, notice: 'Put right.' }
    },
  })
}

function isOwner(ctx: Context): boolean {
  return ctx.actor === null || ctx.actor.role === 'owner'
}

function wrenchesTable(wrenches: Wrench[]) {
  return table({
    columns: [
      column('Wrench'),
      column('Kind'),
      column('Range', 'figure'),
      column('Class'),
      column('Due', 'date'),
      column('Today'),
    ],
    rows: wrenches.map(wrench => ({
      cells: [
        words(link(`/wrenches/${wrench.id}`, ref(wrench.name))),
        KIND_WORDS[wrench.kind],
        rangeInWords(wrench),
        wrench.class ?? '–',
        wrench.due_on === undefined ? '–' : shortDay(wrench.due_on),
        stateInWords({ trouble: wrench.trouble }),
      ],
    })),
  })
}

function facts(wrench: Wrench): { label: string; value: Words; chief?: true }[] {
  const division = wrench.scale_division_nm
  return [
    { label: 'Today', value: stateInWords(wrench), chief: true },
    { label: 'Calibration due', value: wrench.due_on === undefined ? 'none runs' : shortDay(wrench.due_on) },
    { label: 'Range', value: rangeInWords(wrench) },
    { label: 'Kind', value: KIND_WORDS[wrench.kind] },
    { label: 'Class after ISO 6789', value: wrench.class ?? 'not said' },
    { label: 'One division', value: division === undefined ? 'not said' : `${division} N·m` },
  ]
}

const FOUND_WORDS = { good: 'good', outside: 'outside its limits' } as const

function calibrationsTable(calibrations: Calibration[]) {
  return table({
    columns: [
      column('Made on', 'date'),
      column('Certificate'),
      column('Found'),
      column('Uncertainty U', 'reads', 'k = 2'),
    ],
    rows: calibrations.map(({ made_on, certificate, found, points }) => ({
      cells: [
        shortDay(made_on),
        certificate,
        FOUND_WORDS[found],
        points.map(({ at_nm, uncertainty_nm }) => `${uncertainty_nm} at ${at_nm} N·m`).join('; ') || 'not stated',
      ],
    })),
    empty: 'No certificate yet.',
  })
}

function withdrawalsTable(ctx: Context, withdrawals: Withdrawal[]) {
  const { time_zone } = settingsOf(ctx)
  return table({
    columns: [column('Since', 'date'), column('Reason')],
    rows: withdrawals.map(({ at, reason }) => ({ cells: [shortDay(localDateOf(Date.parse(at), time_zone)), reason] })),
    empty: 'It has never been taken out of use.',
  })
}
