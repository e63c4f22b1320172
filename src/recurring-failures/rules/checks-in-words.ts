import { listed } from '../../core/words.ts'

/** What the rule needs of an answer; by symptom, `n` of `of` failures were this cause. */
export interface OrderedChecks {
  expected_minutes: number
  expected_minutes_most_likely_first: number
  is_best: boolean
  checks: readonly {
    id: string
    chance: number
    n: number | null
    of: number | null
    component?: string | undefined
    caution?: string | undefined
    makes_safe?: boolean | undefined
  }[]
  sequence: readonly { kind: 'check' | 'step'; id: string; name: string; ends_at: number }[]
}

/** One line of the order: a check with its number, or a strip-down step without one. */
export interface CheckLine {
  kind: 'check' | 'step'
  place: string
  name: string
  /** '33 %'. */
  chance: string
  /** '1 of 4'. */
  from: string
  minutes: number
  /** '0:16' since the first check. */
  clock: string
  notes: string[]
}

/** The order as people read it: each check with its chance and count, and the strip-down that it takes. */
export function checkLines({ checks, sequence }: OrderedChecks): CheckLine[] {
  let place = 0
  let before = 0
  return sequence.map(({ kind, id, name, ends_at }): CheckLine => {
    const minutes = ends_at - before
    before = ends_at
    const line = { kind, name, minutes, clock: clockWords(ends_at) }
    if (kind === 'step')
      return { ...line, place: '', chance: '', from: '', notes: ['strip-down: what follows may be behind it'] }
    place += 1
    const check = checks.find(each => each.id === id)
    return {
      ...line,
      place: String(place),
      chance: `${Math.round((check?.chance ?? 0) * 100)} %`,
      from: check === undefined || check.n === null ? '' : check.of ? `${check.n} of ${check.of}` : 'none here',
      notes: check?.makes_safe === true ? ['makes it safe, so it comes first'] : [],
    }
  })
}

/** What the catalogue warns of before anybody checks these, each warning once with the components that it is about. */
export function standingCautions({ checks }: Pick<OrderedChecks, 'checks'>): string[] {
  const about = new Map<string, string[]>()
  for (const { caution, component = '' } of checks) {
    if (caution !== undefined) about.set(caution, [...(about.get(caution) ?? []), component])
  }
  return [...about].map(([caution, components]) => `${listed(components)}: ${caution}`)
}

/** How long the order takes on average, against the usual way, and what it rests on. */
export function checksInWords({
  checks,
  expected_minutes,
  expected_minutes_most_likely_first,
  is_best,
}: OrderedChecks): string {
  if (checks.length === 0) return 'No cause of it is known that is not ruled out.'
  const order = `In this order the cause is expected after ${Math.round(expected_minutes)} minutes; starting with the likeliest one, ${Math.round(expected_minutes_most_likely_first)}.`
  const best = is_best ? '' : ' The order is near the best one.'
  const none = checks.every(check => (check.of ?? 0) === 0)
    ? ' No such case on this family at this time of the year yet: the chances are those of the other families and seasons, or equal where there is none at all.'
    : ''
  return `${order}${best}${none}`
}

function clockWords(minutes: number): string {
  const whole = Math.round(minutes)
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`
}
