/** Letters that Unicode does not take apart into a base letter and a mark. */
const WHOLE_LETTERS: Record<string, string> = {
  ...{ ß: 'ss', æ: 'ae', œ: 'oe', þ: 'th' },
  ...{ ø: 'o', ł: 'l', đ: 'd', ð: 'd', ħ: 'h', ı: 'i' },
}

/**
 * Text as it is looked for: case, accents, spaces, dashes and every other mark are left out, so that `QH-418 tk` finds
 * `QH 418 TK` and `Bjork` finds `Björk`. What remains are small letters and digits; it may be nothing at all.
 *
 * @example fold('Zoë  Ångström-Ødegård') // 'zoeangstromodegard'
 */
export function fold(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[ßæœþøłđðħı]/g, letter => WHOLE_LETTERS[letter]!)
    .replace(/[^\p{L}\p{N}]/gu, '')
}
