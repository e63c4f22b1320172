import { localDateOf, localTimeOf } from '../../../core/calendar.ts'
import { shortDay } from '../../../core/days.ts'
import type { Doer, StageKind, TorqueUnit } from '../../../core/vocabulary.ts'
import { TORQUE_UNIT_WORDS, torqueInShopUnit } from '../../../core/words.ts'

/** A torque or an angle as the bench reads it: '45°', '10 N·m', with the unit that somebody prefers beside it. */
export function measure(kind: StageKind, value: number, unit: TorqueUnit = 'N.m'): string {
  return isByAngle(kind) ? `${figure(value)}°` : torqueInShopUnit(value, { torque_unit: unit })
}

/** An instant in milliseconds with its day, since a joint may take more than one: '4 Nov 2031, 14:36'. */
export function moment(at: number, timeZone: string): string {
  return `${shortDay(localDateOf(at, timeZone))}, ${localTimeOf(at, timeZone)}`
}

/** The names of people by id; whoever has none worked at the command line. */
export function nameIn(people: ReadonlyMap<string, string>): (id: string | null) => string {
  return id => (id === null ? undefined : people.get(id)) ?? 'somebody'
}

/** At most two places, none that say nothing. */
export function figure(value: number): string {
  return String(Number(value.toFixed(2)))
}

/** A range whose ends were cut to two places without becoming wider: whatever lies between the two as they are read counts. */
export function inward(from: number, to: number): { from: string; to: string } {
  const dust = 1e-7
  return { from: figure(Math.ceil(from * 100 - dust) / 100), to: figure(Math.floor(to * 100 + dust) / 100) }
}

/** A reading in the unit in which it was read off: '18.4 lbf·ft', '45.2°'. */
export function asRead(value: number, unit: TorqueUnit | 'deg'): string {
  return unit === 'deg' ? `${figure(value)}°` : `${figure(value)} ${TORQUE_UNIT_WORDS[unit]}`
}

export function isByAngle(kind: StageKind): boolean {
  return kind === 'angle' || kind === 'loosen'
}

export const STAGE_WORDS: Record<StageKind, string> = {
  torque: 'tighten to',
  angle: 'turn further by',
  loosen: 'loosen by',
  check: 'check that the torque is',
}

export const VERDICT_WORDS = {
  conforms: 'conforms',
  outside: 'outside its limits',
  unsure: 'unsure',
  as_set: 'as set',
} as const

export const EVENT_WORDS = {
  slipped: 'gauge or socket slipped',
  broke: 'broke',
  angle_not_known: 'angle not known',
  replaced: 'new fastener fitted',
} as const

/** What a fault is called in "Fastener 3 … at stage 2". */
export const FAULT_WORDS = {
  outside: 'went outside its limits',
  unsure: 'is unsure',
  not_proven: 'was set with a wrench that cannot prove the tolerance',
  slipped: 'slipped',
  broke: 'broke',
  angle_not_known: 'has an angle that nobody knows',
  out_of_turn: 'was recorded out of its turn',
  joint_redone: 'is done again with the whole joint',
} as const

/** Why somebody tightens another fastener than the one whose turn it is: ready answers. */
export const OUT_OF_ORDER_ANSWERS = [
  'The next one cannot be reached yet',
  'The next one is being replaced',
  'This one is done again',
  'The manual gives another order',
]

/** Why a joint is left half way: ready answers, one tap each. */
export const LEAVING_ANSWERS = ['Called away', 'Waits for a part', 'Waits for a tool', 'End of the day']

/** Whoever did it, after "by". Another workshop is never named. */
export const DOER_WORDS: Record<Doer, string> = {
  us: 'us',
  other: 'another workshop',
  owner: 'the owner',
  unknown: 'nobody knows whom',
}
