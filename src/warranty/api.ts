import { type Api, apiRead } from '../platform/http/api-route.ts'
import { Backtest, BacktestQuery, WarrantyExposure, WarrantyExposureQuery } from './contract.ts'
import { warrantyBacktest } from './service/backtest.ts'
import { warrantyExposures } from './service/exposure.ts'

export function warrantyApi(api: Api): void {
  apiRead(api, {
    url: '/analysis/warranty-exposure',
    summary: 'What our promises on jobs may still cost: claims and money, with quantiles.',
    query: WarrantyExposureQuery,
    answer: WarrantyExposure,
    handle: (ctx, { query }) => ({ record: warrantyExposures(ctx, query) }),
  })
  apiRead(api, {
    url: '/analysis/warranty-backtest',
    summary: 'Claims foretold at past month-ends with what was known then, beside what happened.',
    query: BacktestQuery,
    answer: Backtest,
    handle: (ctx, { query }) => ({ record: warrantyBacktest(ctx, query) }),
  })
}
