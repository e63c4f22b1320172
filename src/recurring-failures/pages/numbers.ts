import { grouped } from '../../core/words.ts'

/** A ratio or a time as the pages write it: no more digits than it deserves. */
export function rough(value: number): string {
  if (value === 0) return '0'
  if (value < 0.095) return value.toFixed(2)
  return value < 9.95 ? value.toFixed(1) : grouped(value.toFixed(0))
}

/** A p or q value. */
export function chance(value: number): string {
  if (value < 0.0001) return '< 0.0001'
  if (value < 0.01) return value.toFixed(4)
  return value < 0.1 ? value.toFixed(3) : value.toFixed(2)
}

/** A share in per cent, with a true minus sign. */
export function percent(share: number): string {
  return `${Math.round(share * 100)}`.replace('-', '−')
}

export function whole(value: number): string {
  return grouped(String(Math.round(value)))
}

/** 'Rear wheel bearing, noisy', or the component alone. */
export function failureName(component: string, mode: string | null): string {
  return mode === null || mode === '' ? component : `${component}, ${mode}`
}

/** What was asked, as the query of an address; what was not asked for, and boxes that were not ticked, are left out. */
export function queryText(query: object): string {
  const asked = new URLSearchParams()
  for (const [name, value] of Object.entries(query))
    if (value !== undefined && value !== false) asked.set(name, String(value))
  return asked.toString()
}
