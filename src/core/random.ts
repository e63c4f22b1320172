/** A stream of numbers that look drawn by chance and are the same for the same seed. */
export interface RandomSource {
  /** The next whole number of 32 bits, 0 to 4294967295. */
  word(): number
  /** A number in [0, 1) of 53 bits. */
  uniform(): number
  /** A whole number in [0, below), each as likely as the others. */
  integer(below: number): number
  /** A number from the standard normal distribution. */
  normal(): number
  /** The same items in a new order, every order as likely; the list given stays as it was. */
  shuffle<T>(items: readonly T[]): T[]
  /** `count` of the items, none twice. */
  sampleWithoutReplacement<T>(items: readonly T[], count: number): T[]
}

/** The four words of the generator's state. */
export type RandomState = readonly [number, number, number, number]

const TWO_TO_32 = 4_294_967_296

/** Spreads one number over four words: the finaliser of MurmurHash3 on a Weyl sequence (Steele, Lea & Flood 2014). */
function stateOf(seed: number): [number, number, number, number] {
  let walk = seed | 0
  const next = () => {
    walk = (walk + 0x9e3779b9) | 0
    let word = Math.imul(walk ^ (walk >>> 16), 0x85ebca6b)
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35)
    return (word ^ (word >>> 16)) >>> 0
  }
  return [next(), next(), next(), next()]
}

/**
 * A seeded source of random numbers, so that a simulation can be repeated to the digit.
 *
 * Source: xoshiro128** 1.1, Blackman & Vigna (2021) "Scrambled linear pseudorandom number generators", ACM
 * Transactions on Mathematical Software 47(4); normals by the polar method of Marsaglia & Bray (1964). Not for secrets.
 *
 * @param seed a whole number of 32 bits, or the four words of the state, not all zero.
 * @throws RangeError when the seed is neither.
 */
export function random(seed: number | RandomState): RandomSource {
  if (typeof seed === 'number' && !Number.isInteger(seed))
    throw new RangeError('random requires a whole number as seed')
  let [a, b, c, d] = typeof seed === 'number' ? stateOf(seed) : seed
  if ((a | b | c | d) === 0) throw new RangeError('random requires a state that is not all zero')
  let spare: number | null = null

  function word(): number {
    const product = Math.imul(b, 5)
    const result = Math.imul((product << 7) | (product >>> 25), 9) >>> 0
    const shifted = b << 9
    c ^= a
    d ^= b
    b ^= c
    a ^= d
    c ^= shifted
    d = (d << 11) | (d >>> 21)
    return result
  }

  function uniform(): number {
    const high = word() >>> 5
    return (high * 67_108_864 + (word() >>> 6)) / 9_007_199_254_740_992
  }

  function integer(below: number): number {
    if (!(Number.isInteger(below) && below >= 1 && below <= TWO_TO_32)) {
      throw new RangeError('integer requires a whole bound from 1 to 4294967296')
    }
    // The words beyond the last whole multiple of the bound would favour the small numbers: draw again.
    const fair = TWO_TO_32 - (TWO_TO_32 % below)
    let drawn = word()
    while (drawn >= fair) drawn = word()
    return drawn % below
  }

  function normal(): number {
    if (spare !== null) {
      const kept = spare
      spare = null
      return kept
    }
    let x: number
    let y: number
    let square: number
    do {
      x = 2 * uniform() - 1
      y = 2 * uniform() - 1
      square = x * x + y * y
    } while (square >= 1 || square === 0)
    const scale = Math.sqrt((-2 * Math.log(square)) / square)
    spare = y * scale
    return x * scale
  }

  function sampleWithoutReplacement<T>(items: readonly T[], count: number): T[] {
    if (!(Number.isInteger(count) && count >= 0 && count <= items.length)) {
      throw new RangeError('sampleWithoutReplacement requires a count from zero to the number of items')
    }
    const pool = items.slice()
    for (let i = 0; i < count; i++) {
      const j = i + integer(pool.length - i)
      const drawn = pool[j]!
      pool[j] = pool[i]!
      pool[i] = drawn
    }
    return pool.slice(0, count)
  }

  return {
    word,
    uniform,
    integer,
    normal,
    shuffle: items => sampleWithoutReplacement(items, items.length),
    sampleWithoutReplacement,
  }
}
