import { settingsOf } from '../../accounts/index.ts'
import { localDateOf, localTimeOf } from '../../core/calendar.ts'
import { longDay } from '../../core/days.ts'
import { type DoubtCause, severityRank } from '../../core/vocabulary.ts'
import type { Context } from '../../platform/context.ts'
import { notFound } from '../../platform/problems.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type { Doubt } from '../contract/doubt.ts'
import { jointsInDoubt, vehiclesInDoubt } from '../queries/doubted-vehicles.ts'
import {
  correctionsAfterHandBack,
  type DoubtSettlementRow,
  jointIdsOfVehicle,
  settlementsOf,
  type ToolTouch,
  type Touch,
  touchedByBatches,
  touchedByProcedures,
  touchedByTools,
} from '../queries/doubts.ts'
import { jointSentence, placeWords } from '../rules/doubt-words.ts'
import { type Said, said } from '../rules/settling.ts'
import { type Cause, causeOfCorrection, causesOfDoubt } from './doubt-causes.ts'

/** A doubt with its cause, and the person whose vehicle it was. */
export interface FoundDoubt {
  doubt: Doubt
  cause: Cause
  customer_id: string
}

/** `narrowed`: all that the cause touched lies before the time from which a person has said that it is doubted. */
type TouchedJoint = Touch & { narrowed: boolean }

/**
 * Every joint that is or was in doubt, over the whole shop (`joints` null) or among some: touched by a wrench or gauge since
 * it was last known good until it was good again, by a bad batch or a wrong procedure revision (ISO 10012; ISO 9001,
 * 7.1.5.2), or put right on paper after the vehicle had left. Safety first; vehicles that have left before those in the
 * house. Derived from the standing records each time, so a record that was put right no longer counts, while tightening
 * again adds one and leaves the doubt to the person who settles it. What somebody settled stays in the list for good.
 */
export function findDoubts(ctx: Context, joints: readonly string[] | null): FoundDoubt[] {
  const { byId: causes, spans } = causesOfDoubt(ctx)
  const corrections = correctionsAfterHandBack(ctx.read, joints)
  const byId = new Map(causes)
  for (const correction of corrections) byId.set(correction.cause_id, causeOfCorrection(correction))
  const isKnown = (kind: DoubtCause) => [...byId.values()].some(cause => cause.cause === kind)
  const touched = [
    ...touchedByTools(ctx.read, joints, spans).map(withNarrowing),
    ...(isKnown('batch') ? touchedByBatches(ctx.read, joints) : []),
    ...(isKnown('procedure') ? touchedByProcedures(ctx.read, joints) : []),
    ...corrections.filter(correction => correction.stands === 1),
  ].map((touch): TouchedJoint => ({ narrowed: false, ...touch }))
  const words = wordsByDoubt(settlementsOf(ctx.read, joints))
  const known = new Set(touched.map(idOf))
  // settled, and no longer touched: the record was put right since, or another check came between
  for (const [id, { word, settles }] of words) {
    const cause = byId.get(word.cause_id)
    if (!settles || known.has(id) || cause === undefined) continue
    const { cause_id, joint_id } = word
    touched.push({ cause_id, joint_id, since: cause.created_at, recorded_at: cause.created_at, narrowed: false })
  }
  return inOrder(put(ctx, touched, byId, words))
}

function idOf({ cause_id, joint_id }: { cause_id: string; joint_id: string }): string {
  return `${cause_id}.${joint_id}`
}

/** What was said of each doubt, by its id. */
function wordsByDoubt(rows: readonly DoubtSettlementRow[]): Map<string, Said<DoubtSettlementRow>> {
  const byId = new Map<string, DoubtSettlementRow[]>()
  for (const row of rows) byId.set(idOf(row), [...(byId.get(idOf(row)) ?? []), row])
  return new Map([...byId].map(([id, own]) => [id, said(own)!]))
}

function withNarrowing({ first_at, ...touch }: ToolTouch): TouchedJoint {
  return { ...touch, since: touch.since ?? first_at, narrowed: touch.since === null }
}

function put(
  ctx: Context,
  touched: readonly TouchedJoint[],
  causes: ReadonlyMap<string, Cause>,
  words: ReadonlyMap<string, Said<DoubtSettlementRow>>,
): FoundDoubt[] {
  if (touched.length === 0) return []
  const { time_zone } = settingsOf(ctx)
  const joints = new Map(
    jointsInDoubt(
      ctx.read,
      unique(touched, touch => touch.joint_id),
    ).map(row => [row.joint_id, row]),
  )
  const vehicleIds = unique([...joints.values()], joint => joint.vehicle_id)
  const vehicles = new Map(vehiclesInDoubt(ctx.read, vehicleIds).map(row => [row.vehicle_id, row]))
  return touched.map(touch => {
    const cause = causes.get(touch.cause_id)!
    const joint = joints.get(touch.joint_id)!
    const vehicle = vehicles.get(joint.vehicle_id)!
    const told = words.get(idOf(touch))
    const ended = told?.settles === true ? settledBy(told.word, told.second) : null
    const doubt: Doubt = {
      id: idOf(touch),
      cause: cause.cause,
      cause_id: cause.id,
      because: cause.because,
      joint_id: joint.joint_id,
      joint_name: joint.joint_name,
      work_order_id: joint.order_id,
      work_order_number: joint.order_number,
      vehicle_id: joint.vehicle_id,
      ...(vehicle.in_house === 0 && vehicle.left_on !== null && { left_on: vehicle.left_on }),
      severity: joint.severity,
      since: toInstant(touch.since),
      known_at: toInstant(Math.max(cause.created_at, touch.recorded_at)),
      sentence: jointSentence(joint.joint_name, joint.order_number, cause),
      customer_sentence: cause.to_customer(placeWords(joint.joint_name, joint.order_number)),
      waits_for_second_person: told?.settles === false ? settledBy(told.word, null) : null,
      settled: ended ?? (touch.narrowed ? endedByNarrowing(cause, time_zone) : null),
    }
    return { doubt, cause, customer_id: joint.customer_id }
  })
}

function unique<T>(items: readonly T[], of: (item: T) => string): string[] {
  return [...new Set(items.map(of))]
}

interface SettlingRow {
  how: string
  note: string | null
  checked_with_id?: string | null
  created_at: number
  created_by: string | null
}

/** How it was settled, on the wire: at the time of the last word that it needed. */
export function settledBy(word: SettlingRow, second: SettlingRow | null): NonNullable<Doubt['settled']> {
  const { how, note, checked_with_id = null, created_at, created_by } = word
  return {
    ...{ how, ...withoutNulls({ note, checked_with: checked_with_id }) },
    ...{ at: toInstant(second?.created_at ?? created_at), by: created_by },
    ...(second !== null && {
      second: { how: second.how, at: toInstant(second.created_at), by: second.created_by },
    }),
  }
}

/** A person said since when the wrench is doubted, and the joint was tightened before. */
function endedByNarrowing({ narrowed }: Cause, timeZone: string): Doubt['settled'] {
  if (narrowed === null) return null
  const since = `${longDay(localDateOf(narrowed.at, timeZone))}, ${localTimeOf(narrowed.at, timeZone)}`
  const how = `It was tightened before ${since}, since when the wrench is doubted`
  return settledBy({ ...narrowed, how, note: narrowed.reason }, null)
}

function inOrder(found: FoundDoubt[]): FoundDoubt[] {
  const inHouse = ({ doubt }: FoundDoubt) => (doubt.left_on === undefined ? 1 : 0)
  return found.sort(
    (one, other) =>
      severityRank(one.doubt.severity) - severityRank(other.doubt.severity) ||
      inHouse(one) - inHouse(other) ||
      one.doubt.since.localeCompare(other.doubt.since) ||
      one.doubt.id.localeCompare(other.doubt.id),
  )
}

/** Every joint that is or was in doubt; safety first, vehicles that have left before those in the house. */
export function allDoubts(ctx: Context): Doubt[] {
  return findDoubts(ctx, null).map(({ doubt }) => doubt)
}

/** The doubts that nobody has settled yet. */
export function openDoubts(ctx: Context): Doubt[] {
  return allDoubts(ctx).filter(doubt => doubt.settled === null)
}

/** Of one vehicle: open ones and settled ones. */
export function findDoubtsOfVehicle(ctx: Context, vehicleId: string): FoundDoubt[] {
  const joints = jointIdsOfVehicle(ctx.read, vehicleId)
  return joints.length === 0 ? [] : findDoubts(ctx, joints)
}

/** 404 when there is none. */
export function requireDoubt(ctx: Context, id: string): FoundDoubt {
  const jointId = id.slice(id.indexOf('.') + 1)
  const found = findDoubts(ctx, [jointId]).find(({ doubt }) => doubt.id === id)
  if (found === undefined) throw notFound('doubt', id)
  return found
}

export function doubtById(ctx: Context, id: string): Doubt {
  return requireDoubt(ctx, id).doubt
}
