import { currencyPlaces } from '../../core/money.ts'
import { numberFormat } from '../../core/number-formats.ts'
import type { Habits } from './decode.ts'
import { localOfInstant } from './local-time.ts'
import { nameOfPath, type Typed } from './names.ts'
import type { Shape } from './shape.ts'

/** JSON as a contract describes it to what a form would send: the values that an edit form begins with. */
export function encode(value: unknown, shape: Shape, habits?: Habits): Typed {
  const typed: Typed = {}
  put(typed, [], value, shape, habits)
  return typed
}

function put(
  typed: Typed,
  path: (string | number)[],
  value: unknown,
  shape: Shape | undefined,
  habits: Habits | undefined,
): void {
  if (value === undefined || value === null) return
  if (Array.isArray(value)) {
    if (value.every(item => typeof item !== 'object'))
      typed[nameOfPath(path)] = value.map(item => one(item, shape?.items, habits))
    else
      value.forEach((item, index) => {
        put(typed, [...path, index], item, shape?.items, habits)
      })
  } else if (typeof value === 'object') {
    for (const [name, member] of Object.entries(value))
      put(typed, [...path, name], member, shape?.fields.get(name), habits)
  } else typed[nameOfPath(path)] = one(value, shape, habits)
}

function one(value: unknown, shape: Shape | undefined, habits: Habits | undefined): string {
  if (habits !== undefined && typeof value === 'number' && shape?.input === 'money')
    return shifted(value, currencyPlaces(habits.currency), habits)
  if (habits !== undefined && typeof value === 'number' && shape?.input === 'percent')
    return shifted(value, 2, habits).replace(/[.,]?0+$/, '') || '0'
  if (habits !== undefined && typeof value === 'string' && shape?.format === 'date-time')
    return localOfInstant(value, habits.time_zone)
  return String(value)
}

/** 1250 with two places is 12.50 or 12,50, as the workshop writes it; without groups, as people type it. */
function shifted(value: number, places: number, habits: Habits): string {
  const digits = String(Math.abs(value)).padStart(places + 1, '0')
  const whole = digits.slice(0, digits.length - places)
  const sign = numberFormat(habits.locale, { numberingSystem: 'latn' }).format(0.5).charAt(1)
  return `${value < 0 ? '-' : ''}${whole}${places === 0 ? '' : sign + digits.slice(-places)}`
}
