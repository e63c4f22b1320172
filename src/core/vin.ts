/** What a vehicle identification number says about itself. `decided` is the model year that position 7 names. */
export interface VinFacts {
  valid_form: boolean
  check_digit: { expected: string; actual: string; ok: boolean } | null
  model_years: number[]
  decided: number | null
}

const WEIGHTS = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2]
const LETTERS: Record<string, number> = {
  ...{ A: 1, B: 2, C: 3, D: 4, E: 5, F: 6, G: 7, H: 8 },
  ...{ J: 1, K: 2, L: 3, M: 4, N: 5, P: 7, R: 9 },
  ...{ S: 2, T: 3, U: 4, V: 5, W: 6, X: 7, Y: 8, Z: 9 },
}
/** Model-year codes from 1980 on; the row repeats after 30 years. */
const YEARS = 'ABCDEFGHJKLMNPRSTVWXY123456789'

/**
 * Form, check digit and model years of a VIN (49 CFR 565.15: Tables III to V and VII; ISO 3779 for the form). Letters may
 * be small and blanks may stand around it. Position 9 is a check digit only where the law asks for it, so a mismatch is a
 * warning; position 7 decides the year for cars and light vehicles only (digit: 1980 to 2009, letter: 2010 to 2039), so
 * both years are listed. The code is a model year, not the year of building.
 */
export function vin(text: string): VinFacts {
  const characters = text.trim().toUpperCase()
  if (!/^[A-HJ-NPR-Z0-9]{17}$/.test(characters))
    return { valid_form: false, check_digit: null, model_years: [], decided: null }
  const remainder =
    [...characters].reduce((sum, character, at) => sum + WEIGHTS[at]! * (LETTERS[character] ?? Number(character)), 0) %
    11
  const expected = remainder === 10 ? 'X' : String(remainder)
  const actual = characters.charAt(8)
  const code = YEARS.indexOf(characters.charAt(9))
  const years = code < 0 ? [] : [1980 + code, 2010 + code]
  const decided = /\d/.test(characters.charAt(6)) ? years[0] : years[1]
  return {
    valid_form: true,
    check_digit: { expected, actual, ok: expected === actual },
    model_years: years,
    decided: decided ?? null,
  }
}
