/** Names of people and plates, all made up by joining syllables and words that belong to nobody. */

const FIRST = [
  'Bodil',
  'Ansel',
  'Merrit',
  'Oona',
  'Tavi',
  'Corin',
  'Ysolde',
  'Bram',
  'Lenke',
  'Osric',
  'Pia',
  'Halvard',
  'Nesta',
  'Joss',
  'Edda',
  'Rufin',
  'Maren',
  'Tibor',
  'Wilda',
  'Casper',
]
const LAST = [
  'Farrow',
  'Quill',
  'Tenbury',
  'Ashlock',
  'Morrow',
  'Penhale',
  'Drift',
  'Sallow',
  'Wickett',
  'Harl',
  'Osterby',
  'Brindle',
  'Thackley',
  'Vane',
  'Lorimer',
  'Cobbett',
  'Ravel',
  'Stoop',
  'Ingle',
  'Marl',
]

/** The nth customer: no two of the first 400 are alike. */
export function customerName(n: number): string {
  return `${FIRST[n % FIRST.length]} ${LAST[(n * 7 + Math.floor(n / FIRST.length)) % LAST.length]}`
}

/** A telephone number of a range that is kept for stories. */
export function phoneNumber(n: number): string {
  return `0555 0${14 + (n % 80)} ${String(100 + ((n * 37) % 900))}`
}

const LETTERS = 'ABCDEFGHJKLMNPRSTUVWXYZ'

/** A plate of Quillhaven: QH 418 TK. */
export function plateNumber(n: number): string {
  const number = String(100 + ((n * 53) % 900))
  const letters = LETTERS[(n * 5) % LETTERS.length]! + LETTERS[(n * 11 + 3) % LETTERS.length]!
  return `QH ${number} ${letters}`
}
