import type { Api } from '../platform/http/api-route.ts'
import { fasteningCalculationsApi } from './api/calculations.ts'
import { doubtsApi } from './api/doubts.ts'
import { fasteningJointsApi } from './api/joints.ts'
import { fasteningRecordsApi } from './api/records.ts'

export function fasteningApi(api: Api): void {
  fasteningRecordsApi(api)
  fasteningJointsApi(api)
  doubtsApi(api)
  fasteningCalculationsApi(api)
}
