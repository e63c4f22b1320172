import { settingsOf } from '../../accounts/index.ts'
import {
  asksForLook,
  componentsByIds,
  operationById,
  requireComponent,
  requireOperation,
} from '../../catalogue/index.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import type { WhatIf, WhatIfQuery } from '../contract.ts'
import { importedReturnsWith } from '../queries/looked-back.ts'
import { ratedJobs } from '../queries/rated-jobs.ts'
import { componentsOfStays } from '../queries/suspects.ts'
import { whatIf } from '../rules/what-if.ts'
import { firstComebacks } from './first-comebacks.ts'
import { costOfComeback } from './return-costs.ts'

const METHOD =
  'First confirmed comebacks of jobs of the operation in whose stay the component was found failed; a year of 365.25 days; exact limits of the count (Garwood 1936). At best: a look finds what is there to be seen.'

/** What a look on every job of an operation would cost and catch, by our own history. 422 for names that are none. */
export function whatIfLookedAt(ctx: Context, { operation, component, minutes }: WhatIfQuery): WhatIf {
  const operationId = requireOperation(ctx.read, operation, '/operation')
  const componentId = requireComponent(ctx.read, component, '/component')
  const known = asKnown(ctx)
  const all = ratedJobs(ctx.read, known)
  const first = firstComebacks(ctx, known)
  const stays = [...first.values()].flatMap(({ stay_id }) => stay_id ?? [])
  const found = componentsOfStays(ctx.read, stays)
  const imported = importedReturnsWith(ctx.read, componentId)
  const jobs = all
    .filter(job => job.operation?.toLowerCase() === operation.toLowerCase())
    .map(({ id, handed_back_on }) => {
      const comeback = first.get(id)
      const returned =
        comeback !== undefined &&
        (comeback.stay_id === null ? imported.has(id) : (found.get(comeback.stay_id)?.includes(componentId) ?? false))
      return {
        handed_back_on,
        returned,
        cost_minor: returned && comeback !== undefined ? costOfComeback(ctx, comeback, known.before) : null,
      }
    })
  const from = all.map(job => job.handed_back_on).sort()[0] ?? null
  const rateMinor = settingsOf(ctx).cost_rate_minor
  const is_asked_for = asksForLook(operationById(ctx, operationId), componentsByIds(ctx, [componentId])[0]!.name)
  return {
    as_of: known.asOf,
    method: METHOD,
    is_asked_for,
    ...whatIf(jobs, { minutes, rateMinor, from, asOf: known.asOf }),
  }
}
