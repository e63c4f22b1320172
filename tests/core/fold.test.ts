import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { fold } from '../../src/core/fold.ts'
import { nameKey } from '../../src/core/name-key.ts'

describe('fold', () => {
  test.each([
    ['QH-418 tk', 'qh418tk'],
    ['Zoë  Ångström-Ødegård', 'zoeangstromodegard'],
    ['Łódź, Straße 5', 'lodzstrasse5'],
    ['ﬁlter №3', 'filterno3'],
    ['+44 (0)555 014-220', '440555014220'],
    ['Žižkov', 'zizkov'],
    ['Ωμέγα', 'ωμεγα'],
    ['% _ *', ''],
  ])('%s is looked for as %s', (text, folded) => {
    expect(fold(text)).toBe(folded)
  })

  test('what is folded stays as it is, holds letters and digits only, and does not care for case', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), text => {
        const folded = fold(text)
        expect(folded).toMatch(/^[\p{L}\p{N}]*$/u)
        expect(fold(folded)).toBe(folded)
      }),
    )
    fc.assert(
      fc.property(fc.string(), text => {
        expect(fold(text.toUpperCase())).toBe(fold(text.toLowerCase()))
      }),
    )
  })
})

describe('nameKey', () => {
  test('case and blanks make no other name, an accent does', () => {
    expect(nameKey(' Rear  Wheel bearing')).toBe(nameKey('rear wheel BEARING'))
    expect(nameKey('Öl')).toBe(nameKey('O\u0308L'))
    expect(nameKey('Öl')).not.toBe(nameKey('Ol'))
  })
})
