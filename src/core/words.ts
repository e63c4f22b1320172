import { fromSi } from './quantities.ts'
import type { OdometerUnit, TorqueUnit } from './vocabulary.ts'

const SMALL_NUMBERS = [
  'none',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
]

/** A count as a word up to twelve, beyond that in figures. */
export function countWord(count: number): string {
  return SMALL_NUMBERS[count] ?? String(count)
}

/** '3 jobs', '1 job'. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count} ${count === 1 ? one : many}`
}

/** 'a', 'a and b', 'a, b and c'. */
export function listed(items: readonly string[]): string {
  return items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`
}

/** The first letter large. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1)
}

/** The first letter small, unless the word goes on in capitals: "ABS ring" stays. */
export function inText(text: string): string {
  return /^\p{Lu}(?!\p{Lu}|\p{N})/u.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text
}

/** Digits with thousands parted by a space that does not break: 143 720. */
export function grouped(digits: string): string {
  const [whole = '', fraction] = digits.split('.')
  const parted = whole.replace(/\B(?=(\d{3})+$)/g, '\u00a0')
  return fraction === undefined ? parted : `${parted}.${fraction}`
}

/** A distance in the unit that the vehicle's odometer shows: 143 720 km. */
export function distanceInWords(km: number, unit: OdometerUnit): string {
  return `${grouped(String(Math.round(fromSi(km, unit))))}\u00a0${unit}`
}

/** The units of torque as they are printed on a wrench. */
export const TORQUE_UNIT_WORDS: Record<TorqueUnit, string> = {
  'N.m': 'N·m',
  'kgf.m': 'kgf·m',
  'lbf.ft': 'lbf·ft',
  'lbf.in': 'lbf·in',
}

/** At most two places, none that say nothing, and never more than a wrench can be read to: 4.25, 36.4, 110. */
function torqueFigure(value: number): string {
  return String(Number(value.toFixed(value < 10 ? 2 : 1)))
}

/** A torque in N·m, and beside it in the unit that the workshop likes: '25 N·m', '25 N·m (18.4 lbf·ft)'. */
export function torqueInShopUnit(nm: number, { torque_unit }: { torque_unit: TorqueUnit }): string {
  const inNm = `${torqueFigure(nm)}\u00a0N·m`
  if (torque_unit === 'N.m') return inNm
  return `${inNm} (${torqueFigure(fromSi(nm, torque_unit))}\u00a0${TORQUE_UNIT_WORDS[torque_unit]})`
}
