import { z } from 'zod'
import { type Settings, settingsOf } from '../../accounts/index.ts'
import { toSi } from '../../core/quantities.ts'
import { TORQUE_UNITS } from '../../core/vocabulary.ts'
import { listed, torqueInShopUnit } from '../../core/words.ts'
import { check } from '../../platform/check.ts'
import type { Context } from '../../platform/context.ts'
import { decode } from '../../platform/forms/decode.ts'
import { describe } from '../../platform/forms/describe.ts'
import type { Typed } from '../../platform/forms/names.ts'
import { shapeWhenNeeded } from '../../platform/forms/shape.ts'
import { formErrors } from '../../platform/forms/summary.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { adapterDrawing } from '../../platform/pages/figures/adapter.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, ref, words } from '../../platform/pages/words.ts'
import type { Adapter } from '../contract.ts'
import { troubleInWords } from '../rules/words.ts'
import { type AdapterSetting, adapterById, adapterSettings } from '../service/adapters.ts'
import type { ToolUse } from '../service/use.ts'
import { allWrenches } from '../service/wrenches.ts'
import { isOwner } from './shared.ts'

/** What is asked of an adapter. Beyond 180° the drawing would be its own mirror image. */
const Asked = z.strictObject({
  target: z
    .number()
    .positive()
    .max(10_000)
    .meta({ title: 'The fastener is to get', classes: 'short', description: 'From the maker’s manual' }),
  unit: z.enum(TORQUE_UNITS).meta({
    title: 'Unit',
    classes: 'short',
    labels: { 'N.m': 'N·m', 'kgf.m': 'kgf·m', 'lbf.ft': 'lbf·ft', 'lbf.in': 'lbf·in' },
  }),
  angle: z.number().min(0).max(180).meta({
    title: 'Angle θ',
    unit: '°',
    classes: 'short',
    description: '0 where the adapter lengthens the wrench, 90 across it, 180 back towards the hand',
  }),
  wrench: z
    .string()
    .max(100)
    .optional()
    .meta({ title: 'Wrench', classes: 'medium', description: 'Empty: the surest one' }),
})
type Asked = z.infer<typeof Asked>

/** As it comes: what is wrong is said beside the field, and nothing typed is lost. */
const AsTyped = z.strictObject({
  target: z.string().max(100).optional().meta({ keep_empty: true }),
  unit: z.string().max(100).optional(),
  angle: z.string().max(100).optional(),
  wrench: z.string().max(100).optional(),
})

export function settingPage(pages: Pages, use: ToolUse): void {
  const shape = shapeWhenNeeded(Asked)
  pageRead(pages, {
    url: '/tools/adapters/:id',
    query: AsTyped,
    handle(ctx, { params, query }) {
      const adapter = adapterById(ctx, params.id)
      const settings = settingsOf(ctx)
      const typed: Typed = { unit: settings.torque_unit, angle: '0', ...withoutUndefined(query) }
      const habits = pages.habits()
      const checked = query.target === undefined ? null : check(Asked, decode(typed, shape(), { habits }))
      const wrong = checked === null || checked.ok ? null : formErrors(shape(), checked.errors)
      const wrenches = allWrenches(ctx, use.cyclesSince(ctx))
      const choices = { wrench: wrenches.map(({ id, name }) => ({ value: id, label: name })) }
      return {
        template: 'tools/adapter',
        sheet: {
          title: `Adapter ${adapter.name}`,
          sheet_title: 'Adapter',
          sheet_number: adapter.name,
          nav: 'wrenches',
          error: wrong !== null,
        },
        view: {
          facts: facts(adapter),
          wrong: wrong?.summary ?? null,
          fields: describe(shape(), { typed, errors: wrong?.byName ?? {}, habits, choices }),
          result: checked?.ok ? result(ctx, use, adapter, checked.value, settings) : null,
          address: `/tools/adapters/${adapter.id}`,
          may_edit: isOwner(ctx),
        },
      }
    },
  })
}

function withoutUndefined(query: z.infer<typeof AsTyped>): Typed {
  return Object.fromEntries(
    Object.entries(query).flatMap(([name, value]) => (value === undefined ? [] : [[name, value]])),
  )
}

function facts({ length_mm }: Adapter) {
  return [
    { label: 'Length E, drive to drive', value: `${length_mm} mm`, chief: true },
    {
      label: 'Set the wrench to',
      value: 'T·L / (L + E·cos θ)',
      note: 'T is the torque that the fastener is to get; L the length of the wrench, from its drive to the grip mark; θ the angle between the wrench, outwards, and the adapter.',
    },
  ]
}

function result(ctx: Context, use: ToolUse, adapter: Adapter, asked: Asked, settings: Settings) {
  const target_nm = toSi(asked.target, asked.unit)
  const all = adapterSettings(ctx, adapter, { target_nm, angle_deg: asked.angle }, use.cyclesSince(ctx))
  const chosen = asked.wrench === undefined ? all[0] : all.find(({ wrench }) => wrench.id === asked.wrench)
  const set = chosen === undefined ? null : setOf(chosen, target_nm, settings)
  return {
    set,
    none: set === null ? noneInWords(chosen) : null,
    figure: chosen === undefined || set === null ? null : figure(adapter, chosen, asked.angle),
    table: settingsTable(all, settings),
  }
}

/** Null when there is nothing that the wrench could be set to. */
function setOf({ wrench, set_nm, because }: AdapterSetting, targetNm: number, settings: Settings) {
  if (set_nm === null) return null
  return {
    sentence: words('Set ', link(`/tools/wrenches/${wrench.id}`, ref(wrench.name)), ' to'),
    value: torqueInShopUnit(set_nm, settings),
    gets: `so that the fastener gets ${torqueInShopUnit(targetNm, settings)}.${nearestMark(set_nm, wrench.scale_division_nm)}`,
    trouble:
      because.length === 0
        ? null
        : `At that setting ${wrench.name} is not to be used: ${listed(because.map(troubleInWords))}. Take another wrench or another adapter.`,
  }
}

function nearestMark(setNm: number, divisionNm: number | null): string {
  if (divisionNm === null) return ''
  return ` The nearest mark of its scale is ${Number((Math.round(setNm / divisionNm) * divisionNm).toFixed(3))} N·m.`
}

function noneInWords(chosen: AdapterSetting | undefined): string {
  if (chosen === undefined) return 'No such wrench is in the register.'
  return chosen.wrench.length_mm === null
    ? `The length of ${chosen.wrench.name} is not in the register. Measure it from the drive to the grip mark and put the wrench right.`
    : `On ${chosen.wrench.name} this adapter would reach back to the hand at that angle. Turn it outwards.`
}

function figure(adapter: Adapter, { wrench }: AdapterSetting, angle_deg: number) {
  return {
    drawings: adapterDrawing({
      id: 'setting',
      wrench: wrench.name,
      adapter: adapter.name,
      wrench_length_mm: wrench.length_mm!,
      adapter_length_mm: adapter.length_mm,
      angle_deg,
    }),
    caption:
      'To scale along both levers. It is true only with the hand at the grip mark, and the pull square to the wrench.',
  }
}

function settingsTable(all: AdapterSetting[], settings: Settings) {
  return table({
    columns: [
      column('Wrench'),
      column('Length L', 'figure'),
      column('Set to', 'figure'),
      column('Uncertainty U', 'figure', 'at the fastener, k = 2'),
      column('Today'),
    ],
    rows: all.map(({ wrench, set_nm, uncertainty_nm, because }) => ({
      cells: [
        words(link(`/tools/wrenches/${wrench.id}`, ref(wrench.name))),
        wrench.length_mm === null ? 'not said' : `${wrench.length_mm} mm`,
        set_nm === null ? '–' : torqueInShopUnit(set_nm, settings),
        uncertainty_nm === null ? '–' : `±${torqueInShopUnit(uncertainty_nm, settings)}`,
        set_nm === null
          ? wrench.length_mm === null
            ? 'its length is needed'
            : 'the adapter would reach back to the hand'
          : because.length === 0
            ? 'may be used'
            : `not to be used: ${listed(because.map(troubleInWords))}`,
      ],
    })),
    empty: 'No wrench is in the register yet.',
  })
}
