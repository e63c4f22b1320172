import { shortDay } from '../../core/days.ts'
import { capital } from '../../core/words.ts'
import type { Context } from '../../platform/context.ts'
import { patchFromForm } from '../../platform/forms/patch-from-form.ts'
import { pageForm, pageRead } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import { column, table } from '../../platform/pages/table.ts'
import { plainText } from '../../platform/pages/words.ts'
import { type Gauge, type GaugeCheck, GaugeCheckInput, GaugeInput } from '../contract.ts'
import { GAUGE_KIND_WORDS } from '../rules/words.ts'
import {
  checksOfGauge,
  gaugeById,
  recordGaugeCheck,
  registerGauge,
  statedUncertainty,
  updateGauge,
} from '../service/gauges.ts'
import type { DoubtCount, ToolUse } from '../service/use.ts'
import { doubtWords, formView, isOwner, mayRecord, usesTable } from './shared.ts'

export function gaugePages(pages: Pages, use: ToolUse): void {
  pageForm(pages, {
    url: '/tools/gauges/new',
    roles: [],
    contract: GaugeInput,
    page: (_ctx, { form }) => ({
      template: 'tools/form',
      sheet: { title: 'Add a gauge', nav: 'wrenches' },
      view: formView('The gauge', form.fields(), '/tools', '/tools/gauges/new', 'Add'),
    }),
    submit(ctx, input) {
      const { id } = registerGauge(ctx, input)
      return { to: `/tools/gauges/${id}`, notice: `${input.name} is in the register.` }
    },
  })

  pageRead(pages, {
    url: '/tools/gauges/:id',
    handle(ctx, { params }) {
      const gauge = gaugeById(ctx, params.id)
      return {
        template: 'tools/gauge',
        sheet: { title: `Gauge ${gauge.name}`, sheet_title: 'Gauge', nav: 'wrenches', sheet_number: gauge.name },
        view: {
          facts: facts(ctx, gauge),
          checks: checksTable(checksOfGauge(ctx, gauge.id), use.doubtsByCause(ctx)),
          uses: usesTable(use.usesByMonth(ctx, gauge.id), 'Readings'),
          address: `/tools/gauges/${gauge.id}`,
          may_record: mayRecord(ctx),
          may_edit: isOwner(ctx),
        },
      }
    },
  })

  pageForm(pages, {
    url: '/tools/gauges/:id/edit',
    roles: [],
    contract: GaugeInput,
    initial(ctx, { params }) {
      const { version, ...gauge } = gaugeById(ctx, params.id)
      return { values: gauge, version }
    },
    page(ctx, { params, form }) {
      const back = `/tools/gauges/${params.id}`
      return {
        template: 'tools/form',
        sheet: { title: `Put right: ${gaugeById(ctx, params.id).name}`, nav: 'wrenches' },
        view: formView('The gauge', form.fields(), back, `${back}/edit`, 'Put right'),
      }
    },
    submit(ctx, input, { params, version }) {
      updateGauge(ctx, params.id, version, patchFromForm(GaugeInput, input))
      return { to: `/tools/gauges/${params.id}`, notice: 'Put right.' }
    },
  })

  pageForm(pages, {
    url: '/tools/gauges/:id/checks/new',
    roles: ['technician'],
    contract: GaugeCheckInput,
    page(ctx, { params, form }) {
      const back = `/tools/gauges/${params.id}`
      return {
        template: 'tools/form',
        sheet: { title: `Check of ${gaugeById(ctx, params.id).name}`, nav: 'wrenches' },
        view: formView('What the check found', form.fields(), back, `${back}/checks/new`, 'Record'),
      }
    },
    submit(ctx, input, { params }) {
      const { id, found } = recordGaugeCheck(ctx, params.id, input)
      const doubt = plainText(doubtWords(use.doubtsByCause(ctx).get(id), null))
      const said = found === 'good' ? '' : ` It is not used until a later one is good: ${doubt}.`
      return { to: `/tools/gauges/${params.id}`, notice: `The check is in the register.${said}` }
    },
  })
}

function facts(ctx: Context, gauge: Gauge) {
  const own = gauge.uncertainty_deg
  return [
    {
      label: 'Today',
      value: gauge.trouble.length === 0 ? 'may be used' : 'not to be used: found outside at its last check',
      chief: true,
    },
    { label: 'Kind', value: capital(GAUGE_KIND_WORDS[gauge.kind]) },
    {
      label: 'Uncertainty U, k = 2',
      value: `${statedUncertainty(ctx, gauge)}°`,
      ...(own === undefined && { note: 'from the settings' }),
    },
    { label: 'Last checked', value: gauge.checked_on === undefined ? 'never' : shortDay(gauge.checked_on) },
  ]
}

function checksTable(checks: GaugeCheck[], doubts: Map<string, DoubtCount>) {
  return table({
    columns: [column('Checked on', 'date'), column('Against what'), column('Found')],
    rows: checks.map(({ id, made_on, certificate, found }) => ({
      cells: [
        shortDay(made_on),
        certificate,
        found === 'good' ? 'good' : { text: 'outside its limits', notes: [doubtWords(doubts.get(id), null)] },
      ],
    })),
    empty: 'Never checked; its stated uncertainty counts until a check finds it outside.',
  })
}
