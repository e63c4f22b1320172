import type { Api } from '../platform/http/api-route.ts'
import { agreementApi } from './api/agreement.ts'
import { benchApi } from './api/bench.ts'
import { boxesApi } from './api/boxes.ts'
import { jobsApi } from './api/jobs.ts'
import { stepsApi } from './api/steps.ts'
import { waitsApi } from './api/waits.ts'

/** The parts of a work order. The order itself, with its flags and blockers, is answered by take-in. */
export function workOrdersApi(api: Api): void {
  jobsApi(api)
  stepsApi(api)
  benchApi(api)
  agreementApi(api)
  boxesApi(api)
  waitsApi(api)
}
