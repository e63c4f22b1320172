import type { StageKind } from '../../../core/vocabulary.ts'

/** A torque or an angle as the bench reads it: '45°', '10 N·m'. At most two places, none that say nothing. */
export function measure(kind: StageKind, value: number): string {
  return isByAngle(kind) ? `${figure(value)}°` : `${figure(value)} N·m`
}

export function figure(value: number): string {
  return String(Number(value.toFixed(2)))
}

export function isByAngle(kind: StageKind): boolean {
  return kind === 'angle' || kind === 'loosen'
}

export const STAGE_WORDS: Record<StageKind, string> = {
  torque: 'tighten to',
  angle: 'turn further by',
  loosen: 'loosen by',
  check: 'check the torque',
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

/** Why somebody tightens another fastener than the one whose turn it is: ready answers. */
export const OUT_OF_ORDER_ANSWERS = [
  'The next one cannot be reached yet',
  'The next one is being replaced',
  'This one is done again',
  'The manual gives another order',
]
