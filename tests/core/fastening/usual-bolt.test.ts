import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { hexagonBearing } from '../../../src/core/fastening/bearing-diameter.ts'
import { preload, proofTorque } from '../../../src/core/fastening/preload.ts'
import { isPropertyClass, PROPERTY_CLASSES } from '../../../src/core/fastening/proof-stress.ts'
import { isRepeat } from '../../../src/core/fastening/repeat.ts'
import { threadDesignation } from '../../../src/core/fastening/thread-designation.ts'
import { usualFriction } from '../../../src/core/fastening/usual-friction.ts'
import { publishedRows } from './published.ts'

describe('hexagonBearing', () => {
  const rows = publishedRows<{ thread: string; DKm: { value: number } }, object>('preload').filter(
    row => row.inputs.DKm !== undefined,
  )

  test.each(rows.map(row => [row.id, row.inputs] as const))('%s has the mean diameter of VDI 2230', (_, inputs) => {
    const { diameter_mm } = threadDesignation(inputs.thread)!
    expect(hexagonBearing(diameter_mm).tabulated).toBe(true)
    expect(hexagonBearing(diameter_mm).bearing_diameter_mm).toBeCloseTo(inputs.DKm.value, 9)
  })

  it('grows with the thread, and stays near the usual ratio where there is no table', () => {
    const sizes = [3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 14, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 42]
    const means = sizes.map(size => hexagonBearing(size).bearing_diameter_mm)
    expect(means).toEqual([...means].sort((a, b) => a - b))
    for (const [at, size] of sizes.entries()) {
      expect(means[at]! / size).toBeGreaterThan(1.2)
      expect(means[at]! / size).toBeLessThan(1.34)
    }
    expect(hexagonBearing(9)).toEqual({ bearing_diameter_mm: 9 * 1.28, tabulated: false })
  })
})

describe('proofTorque', () => {
  it('is the torque at which the preload is the proof load, for any bolt', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...PROPERTY_CLASSES),
        fc.constantFrom('M6', 'M8x1', 'M10', 'M12x1.25', 'M20'),
        fc.double({ min: 0.04, max: 0.4, noNaN: true }),
        (strength, thread, mu) => {
          const size = threadDesignation(thread)!
          const { bearing_diameter_mm } = hexagonBearing(size.diameter_mm)
          const bolt = { ...size, class: strength, mu_thread: mu, mu_head: mu, bearing_diameter_mm }
          expect(preload({ ...bolt, torque_nm: proofTorque(bolt) }).utilisation).toBeCloseTo(1, 9)
        },
      ),
    )
  })
})

// The ranges are those of VDI 2230, Table A5, from memory.
describe('usualFriction', () => {
  test.each([
    ['Zinc plated, dry', 0.19],
    ['Zinc plated, oiled', 0.12],
    ['zinc flake', 0.12],
    ['Oiled under the head and in the thread', 0.12],
    ['MoS2 paste', 0.07],
    ['Stainless', 0.27],
    ['Stainless with copper paste', 0.07],
    ['Dry', 0.19],
    ['unlubricated', 0.19],
    ['as it comes', 0.14],
    [undefined, 0.14],
  ])('for “%s” is %f, within its range', (finish, mu) => {
    const usual = usualFriction(finish)
    expect(usual.mu).toBe(mu)
    expect(usual.from).toBeLessThan(mu)
    expect(usual.to).toBeGreaterThan(mu)
  })
})

describe('isRepeat', () => {
  const torque = (target: number) => ({ kind: 'torque', target }) as const
  const loosen = { kind: 'loosen', target: 90 } as const

  it('is one more torque stage of the same target', () => {
    const schedule = [torque(20), torque(40), torque(40), loosen, torque(40), torque(30), torque(40)]
    expect(schedule.map((_, at) => isRepeat(schedule, at))).toEqual([false, false, true, false, true, false, false])
  })

  it('is never an angle, a loosening, a check or a stage that is not there', () => {
    expect(isRepeat([torque(40), { kind: 'check', target: 40 }], 1)).toBe(false)
    expect(isRepeat([loosen, loosen], 1)).toBe(false)
    expect(isRepeat([], 0)).toBe(false)
  })
})

test('isPropertyClass knows the classes and nothing that every object has', () => {
  expect(PROPERTY_CLASSES.every(isPropertyClass)).toBe(true)
  expect(['Z', '8,8', '', 'constructor', 'A2-70'].some(isPropertyClass)).toBe(false)
})

test.each(['M10x9', 'M301x6', 'M1x1', `M${'9'.repeat(58)}`])('threadDesignation finds no thread in %s', text => {
  expect(threadDesignation(text)).toBeNull()
})
