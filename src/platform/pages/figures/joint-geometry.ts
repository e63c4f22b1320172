/** A place on the joint in mm, x to the right and y downwards. */
export interface Place {
  x: number
  y: number
}

/** Where the places lie and how far apart; all in mm. */
export interface Extent {
  left: number
  top: number
  width: number
  height: number
  /** Between the two places nearest to each other; Infinity for a single one. */
  nearest: number
}

export function extentOf(places: readonly Place[]): Extent {
  const xs = places.map(place => place.x)
  const ys = places.map(place => place.y)
  const [left, top] = [Math.min(...xs), Math.min(...ys)]
  return { left, top, width: Math.max(...xs) - left, height: Math.max(...ys) - top, nearest: nearestDistance(places) }
}

function nearestDistance(places: readonly Place[]): number {
  let nearest = Number.POSITIVE_INFINITY
  for (let at = 0; at < places.length; at += 1) {
    const { x, y } = places[at]!
    for (let other = at + 1; other < places.length; other += 1) {
      const [dx, dy] = [places[other]!.x - x, places[other]!.y - y]
      nearest = Math.min(nearest, Math.sqrt(dx * dx + dy * dy))
    }
  }
  return nearest
}

/**
 * The bolt circle when there is one: at least three places, all as far from their middle as the others, to one part in
 * fifty. The middle is that of the places, which for a full circle is the circle's own.
 */
export function boltCircle(places: readonly Place[]): { centre: Place; radius: number } | null {
  if (places.length < 3) return null
  const centre = { x: mean(places.map(place => place.x)), y: mean(places.map(place => place.y)) }
  const distances = places.map(place => Math.hypot(place.x - centre.x, place.y - centre.y))
  const radius = mean(distances)
  return distances.every(distance => Math.abs(distance - radius) <= radius / 50) ? { centre, radius } : null
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

/** A quarter turn clockwise: what was on the left stands at the top. */
export function upright(places: readonly Place[]): Place[] {
  return places.map(({ x, y }) => ({ x: -y, y: x }))
}
