import { settingsOf } from '../../accounts/index.ts'
import { requireComponent, requireSymptom } from '../../catalogue/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { rayleigh } from '../../core/statistics/screening/rayleigh.ts'
import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import { invalid } from '../../platform/problems.ts'
import { together } from '../../platform/together.ts'
import type { Season, SeasonQuery } from '../contract.ts'
import { jobMonths, staysWith, troubleMonths } from '../queries/troubles.ts'

const METHOD =
  'Rayleigh’s test on twelve directions, by 10 000 seeded draws from the months of all jobs: a season beyond that of the shop’s work itself.'

/** Whether a symptom, or a component’s failures, has a season. 422 without either, and for names that the catalogue lacks. */
export function season(ctx: Context, { symptom, component, as_of }: SeasonQuery): Season {
  if (symptom === undefined && component === undefined) {
    throw invalid({ pointer: '/symptom', detail: 'Say which symptom, or which component.', code: 'missing' })
  }
  const { symptomId, componentId } = together({
    symptomId: () => (symptom === undefined ? null : requireSymptom(ctx.read, symptom, '/symptom')),
    componentId: () => (component === undefined ? null : requireComponent(ctx.read, component, '/component')),
  })
  const known = asKnown(ctx, as_of)
  const months = troubleMonths(ctx.read, { symptomId, componentId }, known)
  if (symptomId !== null && componentId === null) {
    const { time_zone } = settingsOf(ctx)
    for (const at of staysWith(ctx.read, symptomId, known.before)) {
      months[Number(localDateOf(at, time_zone).slice(5, 7)) - 1]! += 1
    }
  }
  const jobs = jobMonths(ctx.read, known)
  return { as_of: known.asOf, method: METHOD, months, jobs, ...rayleigh(months, jobs) }
}
