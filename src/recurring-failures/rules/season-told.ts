/** Months of a trouble and of all jobs, January first, with the chance of as strong a season by luck. */
export interface CountedSeason {
  months: readonly number[]
  jobs: readonly number[]
  p: number
}

/** Fewer than these may lie anywhere in the year. */
const FEWEST = 5
const LEVEL = 0.05

/** What may be said of a season: that there is one, that none is shown, or that the counts cannot tell. */
export function seasonTold({ months, jobs, p }: CountedSeason): 'season' | 'not_shown' | 'cannot_tell' {
  const count = sum(months)
  if (count < FEWEST || count > sum(jobs)) return 'cannot_tell'
  return p <= LEVEL ? 'season' : 'not_shown'
}

function sum(counts: readonly number[]): number {
  return counts.reduce((total, count) => total + count, 0)
}

const MONTHS = 12
const DEGREES = 360 / MONTHS

/** Where in the year a direction lies: its month (1 to 12) and the third of it. Month m stands at 30·m − 15 degrees. */
export function placeInYear(degrees: number): { third: 'early' | 'mid' | 'late'; month: number } {
  const place = (((degrees % 360) + 360) % 360) / DEGREES
  const within = place % 1
  const third = within < 1 / 3 ? 'early' : within < 2 / 3 ? 'mid' : 'late'
  return { third, month: Math.floor(place) + 1 }
}
