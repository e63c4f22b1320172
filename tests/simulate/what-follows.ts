import { random } from '../../src/core/random.ts'
import { type PriorWorkPair, priorWork } from '../../src/core/statistics/recurrence/prior-work.ts'
import { type Finding, share } from './finding.ts'
import { drawShop, drawTruth, type Truth } from './shop.ts'

const SHOPS = 200
const SEED = 20_310_704
const LAST_DAY = 1_000_000

interface Counts {
  pairs: number
  covered: number
  planted: number
  plantedCovered: number
  plantedFound: number
  /** For each workshop: of what is said to follow often, the share that nothing brings about. */
  falseShares: number[]
  /** The same by the window in days (0: none), with what another operation brings about counted as false, too. */
  wrongShares: Map<number, number[]>
  crudeDecoys: number
  decoys: number
}

/**
 * Is what the program says of "what often follows what" true as often as it claims? Workshops are drawn whose truth is
 * known, one after another from one seed, and every tested pair is held against it.
 *
 * A failure that some operation really brings about has a true ratio with that operation only. With the others it shares the
 * vehicle's age: exposed time lies late in a life whatever the work was. Such pairs are left out of the coverage, and a line
 * of its own says how often one of them is taken for the one that brings it about: hardly with a window, and too often
 * without one, which is why a page says that a ratio without a window compares old vehicles with young ones.
 */
export function whatFollows(): Finding[] {
  const chance = random(SEED)
  const counts: Counts = {
    ...{ pairs: 0, covered: 0, planted: 0, plantedCovered: 0, plantedFound: 0 },
    ...{ falseShares: [], wrongShares: new Map(), crudeDecoys: 0, decoys: 0 },
  }
  for (let shop = 0; shop < SHOPS; shop += 1) {
    const truth = drawTruth(chance)
    const pairs = priorWork(drawShop(chance, truth), {
      ...{ clock: 'days', window: truth.window, by: null, asOf: LAST_DAY, minEvents: 3 },
    })
    count(counts, truth, pairs)
  }
  const wrongWith = (window: number) => mean(counts.wrongShares.get(window) ?? [])
  const { pairs, covered, planted, plantedCovered, plantedFound, decoys, crudeDecoys } = counts
  return [
    share(`95 % limits that hold the true ratio (${pairs} pairs of ${SHOPS} workshops)`, covered / pairs, 0.93, 0.97),
    share(`the same, of the ${planted} planted pairs`, plantedCovered / planted, 0.93, 0.97),
    share('false among what is said to follow often', mean(counts.falseShares), 0, 0.05),
    share('the same in a window of a year, with what another operation brings about', wrongWith(365), 0, 0.05),
    share('the same without a window: work and failure both come with age', wrongWith(0), 0.2, 1),
    share(`decoys that look real across families (${decoys} pairs)`, crudeDecoys / decoys, 0.5, 1),
    share('planted pairs that are found', plantedFound / planted, 0.5, 1),
  ]
}

function count(counts: Counts, { ratios, window }: Truth, pairs: readonly PriorWorkPair[]): void {
  const isBrought = (failure: number) => ratios.some(row => row[failure] !== 1)
  const often = pairs.filter(({ says }) => says === 'often')
  const wrong = often.filter(({ operation, failure }) => ratios[operation]![failure] === 1)
  const brought = wrong.filter(({ failure }) => isBrought(failure))
  const said = Math.max(often.length, 1)
  counts.falseShares.push((wrong.length - brought.length) / said)
  const ofWindow = counts.wrongShares.get(window ?? 0) ?? []
  counts.wrongShares.set(window ?? 0, [...ofWindow, wrong.length / said])
  for (const pair of pairs) {
    const truth = ratios[pair.operation]![pair.failure]!
    if (truth === 1 && isBrought(pair.failure)) continue
    const holds = (pair.lower ?? 0) <= truth && truth <= (pair.upper ?? Number.POSITIVE_INFINITY)
    counts.pairs += 1
    if (holds) counts.covered += 1
    if (truth === 1) {
      counts.decoys += 1
      if (pair.crude_rate_ratio !== null && pair.crude_rate_ratio > 1) counts.crudeDecoys += 1
    } else {
      counts.planted += 1
      if (holds) counts.plantedCovered += 1
      if (pair.says === 'often') counts.plantedFound += 1
    }
  }
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, one) => sum + one, 0) / values.length
}
