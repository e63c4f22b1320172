import { settingsOf } from '../../accounts/index.ts'
import { localDateOf } from '../../core/calendar.ts'
import { calibrationOn } from '../../core/fastening/calibration-on.ts'
import { instrumentUncertainty } from '../../core/fastening/instrument-uncertainty.ts'
import { wrenchChoice } from '../../core/fastening/wrench-choice.ts'
import type { CalibrationRule, WrenchFacts, WrenchTrouble } from '../../core/fastening/wrench-usable.ts'
import type { WrenchKind } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { keptUntilWritten } from '../../platform/database/unwritten.ts'
import * as queries from '../queries.ts'
import { type CalibrationLeft, calibrationLeft, dueOn, troubleOn } from '../rules/due.ts'
import type { CyclesSince } from './use.ts'

/** A wrench with all that was recorded about it, as the rules of tightening take it. */
export interface RegisteredWrench extends WrenchFacts {
  id: string
  name: string
  kind: WrenchKind
  scale_division_nm: number | null
  /** From the drive to the grip mark; null when nobody has measured it: then no adapter can be put on it. */
  length_mm: number | null
}

/** The workshop's own rule for how long a calibration holds. */
export function calibrationRule(ctx: Pick<Context, 'read'>): CalibrationRule {
  const { calibration_months, calibration_cycles } = settingsOf(ctx)
  return { months: calibration_months, cycles: calibration_cycles }
}

/** Today in the shop. */
export function today(ctx: Context): string {
  return localDateOf(ctx.clock.now(), settingsOf(ctx).time_zone)
}

const TABLES = ['settings', 'wrenches', 'calibrations', 'withdrawals']

/** Every wrench with its facts by its id, in the order of their names: every reading and every page of a joint asks for some. */
const register = keptUntilWritten(TABLES, (read): ReadonlyMap<string, RegisteredWrench> => {
  const calibrations = queries.calibrationsByWrench(read)
  const withdrawals = queries.withdrawalsByWrench(read)
  const { time_zone } = settingsOf({ read })
  return new Map(
    queries
      .allWrenchRows(read)
      .map(row => [row.id, factsFrom(row, calibrations.get(row.id) ?? [], withdrawals.get(row.id) ?? [], time_zone)]),
  )
})

/** Undefined when there is no such wrench. `cycles` is null: nobody has counted. */
export function wrenchFacts(ctx: Pick<Context, 'read'>, id: string): RegisteredWrench | undefined {
  return register(ctx.read).get(id)
}

/** By name. */
export function allWrenchFacts(ctx: Pick<Context, 'read'>): RegisteredWrench[] {
  return [...register(ctx.read).values()]
}

function factsFrom(
  row: queries.WrenchRow,
  calibrations: queries.CalibrationRow[],
  withdrawals: queries.WithdrawalRow[],
  time_zone: string,
): RegisteredWrench {
  const day = (ms: number) => localDateOf(ms, time_zone)
  return {
    id: row.id,
    name: row.name,
    kind: row.kind,
    // a scale that begins at nothing has no lowest mark
    min_nm: row.min_nm === 0 ? null : row.min_nm,
    max_nm: row.max_nm,
    class: row.class,
    scale_division_nm: row.scale_division_nm,
    length_mm: row.length_mm,
    calibrations,
    withdrawals: withdrawals.map(({ id, at, created_at }) => ({ id, on: day(at), created_at })),
    in_use_since: day(row.created_at),
    cycles: null,
  }
}

/** How a wrench stands on a day. */
export interface WrenchState {
  wrench: RegisteredWrench
  /** The last day of its calibration; null when nothing runs. */
  due_on: string | null
  /** What is left of it; null when nothing is. */
  left: CalibrationLeft | null
  /** What speaks against it, whatever the torque inside its range. */
  trouble: WrenchTrouble[]
  /** Expanded uncertainty (k = 2) in N·m at a torque, from its certificate, else its class; null when unknown. */
  uncertaintyAt(nm: number): number | null
}

/** Undefined when there is no such wrench. */
export function wrenchState(ctx: Context, id: string, on: string, cyclesSince?: CyclesSince): WrenchState | undefined {
  const facts = wrenchFacts(ctx, id)
  if (facts === undefined) return undefined
  const wrench = counted(facts, on, cyclesSince)
  const points = calibrationOn(wrench.calibrations, on)?.points ?? []
  const rule = calibrationRule(ctx)
  return {
    wrench,
    due_on: dueOn(wrench, on, rule),
    left: calibrationLeft(wrench, on, rule),
    trouble: troubleOn(wrench, on, rule),
    uncertaintyAt: nm => instrumentUncertainty(nm, { ...wrench, points }),
  }
}

/** The stage that a wrench is wanted for: what it is set to and its limits, in N·m, and the day. */
export interface WantedFor {
  target: number
  lower: number
  upper: number
  on: string
}

export interface WrenchesForTarget {
  /** Usable, the smallest uncertainty first. */
  best_first: { wrench: RegisteredWrench; uncertainty_nm: number | null; proves_tolerance: boolean }[]
  /** Each other, with every reason against it. */
  out: { wrench: RegisteredWrench; because: WrenchTrouble[] }[]
  /** Whether any of them can prove the tolerance; to be said before tightening, not after. */
  can_be_proved: boolean
}

/** The wrenches of the shop for a torque on a day (methods: wrench at work). */
export function wrenchesForTarget(ctx: Context, wanted: WantedFor, cyclesSince?: CyclesSince): WrenchesForTarget {
  const { target, lower, upper, on } = wanted
  const all = allWrenchFacts(ctx).map(wrench => counted(wrench, on, cyclesSince))
  const byId = new Map(all.map(wrench => [wrench.id, wrench]))
  const choice = wrenchChoice({ target_nm: target, lower, upper }, all, on, calibrationRule(ctx))
  return {
    best_first: choice.best_first.map(({ id, ...rest }) => ({ wrench: byId.get(id)!, ...rest })),
    out: choice.out.map(({ id, because }) => ({ wrench: byId.get(id)!, because })),
    can_be_proved: choice.can_be_proved,
  }
}

/** With its cycles since the certificate that stood on a day, where somebody counts them. */
export function counted(wrench: RegisteredWrench, on: string, cyclesSince: CyclesSince | undefined): RegisteredWrench {
  const since = calibrationOn(wrench.calibrations, on)?.made_on ?? wrench.in_use_since
  if (cyclesSince === undefined || since === null) return wrench
  return { ...wrench, cycles: cyclesSince(wrench.id, since) }
}
