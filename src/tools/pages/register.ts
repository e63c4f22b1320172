import { longDay, shortDay } from '../../core/days.ts'
import type { CalibrationRule } from '../../core/fastening/wrench-usable.ts'
import { capital, counted, grouped } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { link, ref, words } from '../../platform/pages/words.ts'
import type { Adapter, Gauge, Wrench } from '../contract.ts'
import { GAUGE_KIND_WORDS, KIND_WORDS, leftInWords, rangeInWords, standingInWords } from '../rules/words.ts'
import { allAdapters } from '../service/adapters.ts'
import { allGauges, statedUncertainty } from '../service/gauges.ts'
import { calibrationRule, today, type WrenchState, wrenchState } from '../service/state.ts'
import type { ToolUse } from '../service/use.ts'
import { allWrenches } from '../service/wrenches.ts'
import { isOwner } from './shared.ts'

export function registerPages(pages: Pages, use: ToolUse): void {
  pageRead(pages, {
    url: '/tools',
    handle(ctx) {
      const cycles = use.cyclesSince(ctx)
      const wrenches = allWrenches(ctx, cycles).map(wrench => ({
        wrench,
        state: wrenchState(ctx, wrench.id, today(ctx), cycles)!,
      }))
      const [gauges, adapters] = [allGauges(ctx), allAdapters(ctx)]
      return {
        template: 'tools/register',
        sheet: {
          title: 'Wrenches, gauges, adapters',
          nav: 'wrenches',
          sheet_number: counted(wrenches.length, 'wrench', 'wrenches'),
        },
        view: {
          attention: wrenches.flatMap(({ wrench, state }) => attention(wrench, state)),
          wrenches: wrenches.length === 0 ? null : wrenchesTable(wrenches),
          rule: ruleInWords(calibrationRule(ctx)),
          gauges: gauges.length === 0 ? null : gaugesTable(ctx, gauges),
          adapters: adapters.length === 0 ? null : adaptersTable(adapters),
          may_add: isOwner(ctx),
        },
      }
    },
  })
}

/** A sentence for each wrench that wants something done: it may not be used, or its calibration is due soon. */
function attention({ id, name }: Wrench, { trouble, left, due_on }: WrenchState) {
  const about = link(`/tools/wrenches/${id}`, ref(name))
  if (trouble.length > 0) {
    return [{ word: 'Out', text: words(about, ` is ${standingInWords(trouble, due_on, left)}.`), hurts: true }]
  }
  if (left === null || due_on === null || !left.soon) return []
  const text = words(about, ` has ${leftInWords(left)} left of its calibration, to ${longDay(due_on)}.`)
  return [{ word: 'Due soon', text }]
}

function ruleInWords({ months, cycles }: CalibrationRule): string {
  return `Calibration is due after ${counted(months, 'month')} or ${grouped(String(cycles))} cycles, whichever is first (a setting), and after a drop or an overload. A wrench is used from a fifth of its maximum, or from its lowest mark.`
}

function wrenchesTable(wrenches: { wrench: Wrench; state: WrenchState }[]) {
  return table({
    columns: [
      column('Wrench'),
      column('Kind'),
      column('Range', 'figure'),
      column('Due', 'date'),
      column('Cycles left', 'figure'),
      column('Today'),
    ],
    rows: wrenches.map(({ wrench, state: { due_on, left, trouble } }) => ({
      cells: [
        words(link(`/tools/wrenches/${wrench.id}`, ref(wrench.name))),
        KIND_WORDS[wrench.kind],
        rangeInWords(wrench),
        due_on === null ? '–' : shortDay(due_on),
        left === null || left.cycles === null ? '–' : grouped(String(left.cycles)),
        standingInWords(trouble, null, null),
      ],
    })),
  })
}

function gaugesTable(ctx: Context, gauges: Gauge[]) {
  return table({
    columns: [
      column('Gauge'),
      column('Kind'),
      column('Uncertainty U', 'figure', 'k = 2'),
      column('Last checked', 'date'),
      column('Today'),
    ],
    rows: gauges.map(gauge => ({
      cells: [
        words(link(`/tools/gauges/${gauge.id}`, ref(gauge.name))),
        capital(GAUGE_KIND_WORDS[gauge.kind]),
        `${statedUncertainty(ctx, gauge)}°`,
        gauge.checked_on === undefined ? 'never' : shortDay(gauge.checked_on),
        gauge.trouble.length === 0 ? 'may be used' : 'not to be used: found outside at its last check',
      ],
    })),
  })
}

function adaptersTable(adapters: Adapter[]) {
  return table({
    columns: [column('Adapter'), column('Length', 'figure', 'drive to drive')],
    rows: adapters.map(({ id, name, length_mm }) => ({
      cells: [words(link(`/tools/adapters/${id}`, ref(name))), `${length_mm} mm`],
    })),
    stacks: false,
  })
}
