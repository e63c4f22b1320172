import { scaleLinear } from 'd3-scale'
import { grouped } from '../../../core/words.ts'

export type Scale = (value: number) => number

/** A straight scale from a domain to drawing units, unrounded; shapes round when they are made. */
export function straight(from: number, to: number, start: number, end: number): Scale {
  return scaleLinear().domain([from, to]).range([start, end])
}

/** Round numbers between `from` and `to`, about `count` of them, at equal steps of 1, 2 or 5 times a power of ten. */
export function roundTicks(from: number, to: number, count: number): number[] {
  return scaleLinear().domain([from, to]).ticks(count)
}

/** A number as an axis shows it: no more decimals than the step needs, and none on a whole number. */
export function tickLabel(value: number, step: number): string {
  const decimals = step >= 1 ? 0 : Math.ceil(-Math.log10(step) - 1e-9)
  return grouped(String(Number(value.toFixed(decimals))))
}
