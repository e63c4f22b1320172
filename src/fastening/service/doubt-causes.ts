import { settingsOf } from '../../accounts/index.ts'
import { type CalendarDate, localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import {
  firstGoodAfter,
  type Incident,
  lastGoodBefore,
  spanOfDrop,
  spanOfOutside,
} from '../../core/fastening/known-good.ts'
import type { DoubtCause } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import type { Read } from '../../platform/database/types.ts'
import { keptUntilWritten } from '../../platform/database/unwritten.ts'
import * as queries from '../queries/doubt-causes.ts'
import type { Correction, ToolSpan } from '../queries/doubts.ts'
import {
  batchWords,
  type CauseWords,
  correctionWords,
  dropWords,
  outsideWords,
  procedureWords,
} from '../rules/doubt-words.ts'

/** A check as the pages name it. */
export interface GoodCheck {
  made_on: CalendarDate
  certificate: string
}

/** What puts joints in doubt, with its words and, for a wrench or gauge, the checks around it. */
export interface Cause extends CauseWords {
  cause: DoubtCause
  id: string
  /** When it was recorded, in milliseconds. */
  created_at: number
  /** Of a wrench or gauge only. */
  tool: { id: string; kind: 'wrench' | 'gauge'; name: string; was_dropped: boolean } | null
  last_good: GoodCheck | null
  good_since: GoodCheck | null
  /** What a person said of since when a wrench is doubted. */
  narrowed: { at: number; reason: string; created_at: number; created_by: string | null } | null
}

export interface Causes {
  byId: ReadonlyMap<string, Cause>
  spans: { wrenches: readonly ToolSpan[]; gauges: readonly ToolSpan[] }
}

const OF_NO_TOOL = { tool: null, last_good: null, good_since: null, narrowed: null }

/** Everything that puts joints in doubt but the corrections, which are found with their joints. */
export function causesOfDoubt(ctx: Context): Causes {
  return causesNow(ctx.read)
}

const TABLES = [
  ...['settings', 'wrenches', 'calibrations', 'withdrawals', 'doubted_since', 'gauges', 'gauge_checks'],
  ...['parts', 'batch_faults', 'procedures', 'procedure_revisions'],
]

/** Every page of a joint or a vehicle asks for them, every signature too, and they change a few times a year. */
const causesNow = keptUntilWritten(TABLES, (read): Causes => {
  const { time_zone } = settingsOf({ read })
  const wrenches = causesOfWrenches(read, time_zone)
  const gauges = causesOfChecks(queries.allGaugeChecks(read), 'gauge', time_zone)
  const faults = queries.allBatchFaults(read).map((row): Cause => {
    const part = { name: row.part_name, number: row.part_number }
    const words = batchWords(part, row.batch, localDateOf(row.created_at, time_zone), row.reason)
    return { ...words, ...OF_NO_TOOL, cause: 'batch', id: row.id, created_at: row.created_at }
  })
  const revisions = queries.correctingRevisions(read).map((row): Cause => {
    const on = localDateOf(row.created_at, time_zone)
    const words = procedureWords(row.procedure_name, row.wrong_revision, on, row.reason)
    return { ...words, ...OF_NO_TOOL, cause: 'procedure', id: row.id, created_at: row.created_at }
  })
  const all = [...wrenches.causes, ...gauges.causes, ...faults, ...revisions]
  return {
    byId: new Map(all.map(cause => [cause.id, cause])),
    spans: { wrenches: wrenches.spans, gauges: gauges.spans },
  }
})

export function causeOfCorrection({ cause_id, recorded_at, reason }: Correction): Cause {
  return { ...correctionWords(reason), ...OF_NO_TOOL, cause: 'correction', id: cause_id, created_at: recorded_at }
}

interface ToolCauses {
  causes: Cause[]
  spans: ToolSpan[]
}

function causesOfWrenches(read: Read, timeZone: string): ToolCauses {
  const checks = queries.allCalibrations(read)
  const narrowings = queries.newestNarrowings(read)
  const found: ToolCauses = causesOfChecks(checks, 'wrench', timeZone)
  for (const [nth, cause] of found.causes.entries()) {
    const narrowed = narrowings.get(cause.id)
    if (narrowed === undefined) continue
    cause.narrowed = narrowed
    found.spans[nth]!.narrow_from = narrowed.at
  }
  for (const drop of queries.allDrops(read)) {
    const on = localDateOf(drop.at, timeZone)
    const own = checks.filter(check => check.tool_id === drop.tool_id)
    const span = spanOfDrop(own, { ...drop, on }, timeZone)
    const words = dropWords(drop.tool_name, `${longDay(on)}, ${localTimeOf(drop.at, timeZone)}`, drop.reason)
    const tool = { id: drop.tool_id, kind: 'wrench', name: drop.tool_name, was_dropped: true } as const
    found.causes.push({ ...words, ...around(own, { ...drop, on }), ...ofTool(tool, drop) })
    if (span !== null) found.spans.push(spanRow(span, drop))
  }
  return found
}

/** One cause and one span, at the same place, for each check that found a tool outside. */
function causesOfChecks(checks: readonly queries.CheckRow[], kind: 'wrench' | 'gauge', timeZone: string): ToolCauses {
  const found: ToolCauses = { causes: [], spans: [] }
  for (const check of checks.filter(each => each.found === 'outside')) {
    const own = checks.filter(each => each.tool_id === check.tool_id)
    const incident = { ...check, on: check.made_on }
    const tool = { id: check.tool_id, kind, name: check.tool_name, was_dropped: false }
    const words = outsideWords(kind, check.tool_name, check.made_on)
    found.causes.push({ ...words, ...around(own, incident), ...ofTool(tool, check) })
    found.spans.push(spanRow(spanOfOutside(own, incident, timeZone), check))
  }
  return found
}

function around(checks: readonly queries.CheckRow[], incident: Incident) {
  return { last_good: lastGoodBefore(checks, incident), good_since: firstGoodAfter(checks, incident) }
}

function ofTool(tool: NonNullable<Cause['tool']>, row: { id: string; created_at: number }) {
  return { tool, narrowed: null, cause: 'wrench' as const, id: row.id, created_at: row.created_at }
}

function spanRow(
  span: ReturnType<typeof spanOfOutside>,
  row: { id: string; tool_id: string; created_at: number },
): ToolSpan {
  return { ...span, cause_id: row.id, tool_id: row.tool_id, created_at: row.created_at, narrow_from: span.from }
}
