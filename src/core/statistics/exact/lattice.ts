/** Chances of whole numbers in a row: `mass[i]` is the chance of `lowest + i`. */
export interface Lattice {
  lowest: number
  mass: Float64Array
}

/** Chances this far below the greatest change no digit that a double can hold, and cost the most time. */
const NEGLIGIBLE = 1e-17

/** The same chances without the ends that are negligible beside the greatest. */
function trimmed(lowest: number, mass: Float64Array): Lattice {
  let greatest = 0
  for (let i = 0; i < mass.length; i++) if (mass[i]! > greatest) greatest = mass[i]!
  const floor = greatest * NEGLIGIBLE
  let from = 0
  let to = mass.length
  while (from < to - 1 && mass[from]! < floor) from++
  while (to > from + 1 && mass[to - 1]! < floor) to--
  return { lowest: lowest + from, mass: to - from === mass.length ? mass : mass.subarray(from, to) }
}

/** From this length on the copies that `slide` makes pay for themselves. */
const LONG = 48

/** The products of two short sides, added up one by one. */
function scatter(long: Float64Array, short: Float64Array): Float64Array {
  const mass = new Float64Array(long.length + short.length - 1)
  for (let j = 0; j < short.length; j++) {
    const chance = short[j]!
    for (let i = 0; i < long.length; i++) mass[i + j]! += chance * long[i]!
  }
  return mass
}

/** The same, four sums at once over a sliding window of the longer side: a screening of many pairs spends its time here. */
function slide(long: Float64Array, short: Float64Array): Float64Array {
  const overlap = short.length - 1
  const length = long.length + overlap
  const backwards = short.slice().reverse()
  const padded = new Float64Array(length + overlap + 8)
  padded.set(long, overlap)
  const mass = new Float64Array(length + 4)
  for (let i = 0; i < length; i += 4) {
    let [sum0, sum1, sum2, sum3] = [0, 0, 0, 0]
    let [at0, at1, at2, at3] = [padded[i]!, padded[i + 1]!, padded[i + 2]!, padded[i + 3]!]
    for (let j = 0; j <= overlap; j++) {
      const chance = backwards[j]!
      sum0 += chance * at0
      sum1 += chance * at1
      sum2 += chance * at2
      sum3 += chance * at3
      at0 = at1
      at1 = at2
      at2 = at3
      at3 = padded[i + j + 4]!
    }
    mass[i] = sum0
    mass[i + 1] = sum1
    mass[i + 2] = sum2
    mass[i + 3] = sum3
  }
  return mass.subarray(0, length)
}

/** The distribution of the sum of two independent whole numbers. */
function convolve(a: Lattice, b: Lattice): Lattice {
  const [long, short] = a.mass.length >= b.mass.length ? [a.mass, b.mass] : [b.mass, a.mass]
  return trimmed(a.lowest + b.lowest, short.length < LONG ? scatter(long, short) : slide(long, short))
}

/** The distribution of the sum of them all. Halving keeps both sides of each convolution short. */
export function convolveAll(lattices: readonly Lattice[], from = 0, to = lattices.length): Lattice {
  if (to === from) return { lowest: 0, mass: Float64Array.of(1) }
  if (to === from + 1) return lattices[from]!
  const middle = (from + to) >> 1
  return convolve(convolveAll(lattices, from, middle), convolveAll(lattices, middle, to))
}

/**
 * The binomial distribution, built outwards from its most likely count and then made to sum to one: no factorial, so
 * nothing overflows at tens of thousands of trials.
 */
export function binomialLattice(trials: number, chance: number): Lattice {
  if (chance <= 0) return { lowest: 0, mass: Float64Array.of(1) }
  if (chance >= 1) return { lowest: trials, mass: Float64Array.of(1) }
  const odds = chance / (1 - chance)
  const mode = Math.min(trials, Math.floor((trials + 1) * chance))
  let lowest = mode
  let total = 1
  for (let value = 1; lowest > 0 && value >= NEGLIGIBLE; lowest--) {
    value *= lowest / ((trials - lowest + 1) * odds)
    total += value
  }
  let highest = mode
  for (let value = 1; highest < trials && value >= NEGLIGIBLE; highest++) {
    value *= ((trials - highest) * odds) / (highest + 1)
    total += value
  }
  const mass = new Float64Array(highest - lowest + 1)
  mass[mode - lowest] = 1 / total
  for (let k = mode; k > lowest; k--) mass[k - 1 - lowest] = (mass[k - lowest]! * k) / ((trials - k + 1) * odds)
  for (let k = mode; k < highest; k++) mass[k + 1 - lowest] = (mass[k - lowest]! * (trials - k) * odds) / (k + 1)
  return { lowest, mass }
}
