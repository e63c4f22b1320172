import type { Api } from '../platform/http/api-route.ts'
import { fasteningCalculationsApi } from './api/calculations.ts'
import { fasteningRecordsApi } from './api/records.ts'

export function fasteningApi(api: Api): void {
  fasteningRecordsApi(api)
  fasteningCalculationsApi(api)
}
