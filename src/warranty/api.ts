import { type Api, apiRead } from '../platform/http/api-route.ts'
import { analysed } from '../platform/workers/analysed.ts'
import { Backtest, BacktestQuery, WarrantyExposure, WarrantyExposureQuery } from './contract.ts'
import { warrantyBacktest } from './service/backtest.ts'
import { warrantyExposures } from './service/exposure.ts'

export function warrantyApi(api: Api): void {
  apiRead(api, {
    url: '/analysis/warranty-exposure',
    summary: 'What our promises on jobs may still cost: claims and money, with quantiles.',
    query: WarrantyExposureQuery,
    answer: WarrantyExposure,
    handle: async (ctx, { query }) => ({ record: await analysed(ctx, 'warranty-exposure', query, warrantyExposures) }),
  })
  apiRead(api, {
    url: '/analysis/warranty-backtest',
    summary: 'Claims foretold at past month-ends with what was known then, beside what happened.',
    query: BacktestQuery,
    answer: Backtest,
    handle: async (ctx, { query }) => ({ record: await analysed(ctx, 'warranty-backtest', query, warrantyBacktest) }),
  })
}
