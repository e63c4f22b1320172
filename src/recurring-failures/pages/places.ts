const PLACES = [
  { href: '/recurring', name: 'What follows what' },
  { href: '/recurring/recurrence', name: 'How one repair recurs' },
  { href: '/recurring/first-checks', name: 'What to check first' },
  { href: '/recurring/season', name: 'Season' },
] as const

/** The questions that can be asked of the record, for the line that stands on each of their pages. */
export function placesFrom(here: (typeof PLACES)[number]['href']) {
  return PLACES.map(place => ({ ...place, here: place.href === here }))
}
