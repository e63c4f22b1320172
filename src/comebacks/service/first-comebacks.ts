import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import type { Context } from '../../platform/context.ts'
import { type ComebackRow, confirmedComebacks } from '../queries/rated-jobs.ts'

/** The first confirmed comeback of a job: a stay, or what an imported history tells. */
export interface FirstComeback extends Pick<ComebackRow, 'stay_id' | 'category'> {
  on: string
  /** Of an imported one: what it states of its cost. */
  stated: Pick<ComebackRow, 'hours' | 'labour_minor' | 'parts_minor'>
}

/** A job's confirmed comeback counts once, the first: by the id of the earlier job, as known then. */
export function firstComebacks(ctx: Context, known: { asOf: string; before: number }): Map<string, FirstComeback> {
  const { time_zone } = settingsOf(ctx)
  const first = new Map<string, FirstComeback>()
  for (const { earlier_id, on, at, stay_id, category, ...stated } of confirmedComebacks(ctx.read, known)) {
    const day = on ?? localDateOf(at ?? 0, time_zone)
    const before = first.get(earlier_id)
    if (before === undefined || day < before.on) first.set(earlier_id, { on: day, stay_id, category, stated })
  }
  return first
}
