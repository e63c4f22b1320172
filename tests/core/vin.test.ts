import fc from 'fast-check'
import { describe, expect, it, test } from 'vitest'
import { vin } from '../../src/core/vin.ts'
import { publishedIds, publishedRow } from './fastening/published.ts'

interface Algorithm {
  weights: number[]
  letters: Record<string, number>
  illegal: string[]
}
const algorithm = publishedRow<object, Algorithm>('vin', 'vin.algorithm').expected
const years = publishedRow<object, { codes: Record<string, number[]>; never_used: string[] }>(
  'vin',
  'vin.year',
).expected
const alphabet = [...Object.keys(algorithm.letters), ...'0123456789']
const anyVin = fc
  .array(fc.constantFrom(...alphabet), { minLength: 17, maxLength: 17 })
  .map(characters => characters.join(''))

/** 17 characters with one of them put in. */
const withCharacter = (position: number, character: string, base = '1M8GDM9AXKP042788') =>
  base.slice(0, position - 1) + character + base.slice(position)

describe('vin', () => {
  it('leaves no published row unchecked', () => {
    const vectors = ['vin.1M8GDM9AXKP042788', 'vin.11111111111111111']
    expect(publishedIds('vin')).toEqual(['vin.algorithm', ...vectors, 'vin.policy', 'vin.year', 'vin.pos7'])
  })

  test.each(['vin.1M8GDM9AXKP042788', 'vin.11111111111111111'])('%s has the published check digit', id => {
    const row = publishedRow<{ vin: string }, { expected_char: string }>('vin', id)
    const { expected_char } = row.expected
    expect(vin(row.inputs.vin).check_digit).toEqual({ expected: expected_char, actual: expected_char, ok: true })
  })

  it('agrees with the published weights and letter values on any VIN (vin.algorithm)', () => {
    fc.assert(
      fc.property(anyVin, text => {
        const sum = algorithm.weights.reduce(
          (total, weight, at) => total + weight * (algorithm.letters[text[at]!] ?? Number(text[at])),
          0,
        )
        expect(vin(text).check_digit?.expected).toBe('0123456789X'[sum % 11])
      }),
    )
  })

  test.each(algorithm.illegal)('%s has no place in a VIN', letter => {
    expect(vin(withCharacter(5, letter)).valid_form).toBe(false)
  })

  it('warns of a check digit and does not block (vin.policy)', () => {
    const facts = vin('1M8GDM9A0KP042788')
    expect(facts.valid_form).toBe(true)
    expect(facts.check_digit).toEqual({ expected: 'X', actual: '0', ok: false })
    expect(facts.model_years).toEqual([1989, 2019])
  })

  test.each(Object.entries(years.codes))('year code %s means %j', (code, both) => {
    expect(vin(withCharacter(10, code)).model_years).toEqual(both)
  })

  test.each(years.never_used.filter(code => !algorithm.illegal.includes(code)))('year code %s means none', code => {
    expect(vin(withCharacter(10, code))).toMatchObject({ valid_form: true, model_years: [], decided: null })
  })

  it('lets position 7 decide, a digit for 1980 to 2009, a letter for 2010 to 2039 (vin.pos7)', () => {
    const row = publishedRow<object, Record<string, string>>('vin', 'vin.pos7').expected
    expect([row['numeric position 7'], row['alphabetic position 7']]).toEqual(['1980-2009', '2010-2039'])
    fc.assert(
      fc.property(anyVin, fc.constantFrom(...Object.keys(years.codes)), (text, code) => {
        const facts = vin(withCharacter(10, code, text))
        const isDigit = /\d/.test(text[6]!)
        expect(facts.decided! <= 2009).toBe(isDigit)
        expect(facts.model_years).toContain(facts.decided)
      }),
    )
  })

  it('takes small letters and blanks around it, and says of anything else only that it is none', () => {
    expect(vin(' 1m8gdm9axkp042788 ')).toEqual(vin('1M8GDM9AXKP042788'))
    for (const text of ['', '123', '1M8GDM9AXKP0427888', '1M8GDM9AXKP04278Ä', '1M8 DM9AXKP042788'])
      expect(vin(text)).toEqual({ valid_form: false, check_digit: null, model_years: [], decided: null })
  })
})
