import { type Api, apiList, apiRead, apiWrite } from '../../platform/http/api-route.ts'
import { versioned } from '../../platform/http/outcomes.ts'
import { apiSmallCollection, pageOfWhole } from '../../platform/http/small-collection.ts'
import { Gauge, GaugeCheck, GaugeCheckInput, GaugeInput, GaugePatch } from '../contract.ts'
import { allGauges, checksOfGauge, gaugeById, recordGaugeCheck, registerGauge, updateGauge } from '../service/gauges.ts'

export function gaugesApi(api: Api): void {
  apiList(api, {
    url: '/gauges',
    summary: 'Lists the angle gauges and paint marks, by name.',
    item: Gauge,
    handle: (ctx, { page }) => pageOfWhole(allGauges(ctx), page),
  })
  apiRead(api, {
    url: '/gauges/:id',
    summary: 'Reads a gauge.',
    answer: Gauge,
    handle: (ctx, { params }) => versioned(gaugeById(ctx, params.id)),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/gauges',
    summary: 'Adds a gauge to the register.',
    roles: [],
    body: GaugeInput,
    answer: Gauge,
    handle: (ctx, { body }) => versioned(registerGauge(ctx, body)),
  })
  apiWrite(api, {
    method: 'PATCH',
    url: '/gauges/:id',
    summary: 'Changes a gauge.',
    roles: [],
    body: GaugePatch,
    answer: Gauge,
    handle: (ctx, { params, body, version }) => versioned(updateGauge(ctx, params.id, version, body)),
  })
  apiSmallCollection(api, {
    url: '/gauges/:id/checks',
    summary: 'Lists the checks of a gauge, the latest first.',
    what: 'check',
    item: GaugeCheck,
    all: (ctx, { id }) => checksOfGauge(ctx, id),
  })
  apiWrite(api, {
    method: 'POST',
    url: '/gauges/:id/checks',
    summary: 'Records a check of a gauge; found outside, it is not used until a later one is good.',
    roles: ['technician'],
    body: GaugeCheckInput,
    answer: GaugeCheck,
    handle: (ctx, { params, body }) => ({ record: recordGaugeCheck(ctx, params.id, body) }),
  })
}
