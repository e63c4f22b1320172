import { headLabel } from './bolt-words.ts'
import { circle, line, path, type Shape, tenth, text } from './drawing.ts'
import type { FastenerView, JointInput } from './joint.ts'
import { extentOf, type Place } from './joint-geometry.ts'
import { paintedStripe } from './painted-stripe.ts'

/**
 * The heads of a joint with their marks, each a link where it leads somewhere.
 * @param places of the fasteners, in drawing units and in the order of joint.fasteners
 * @param head radius of a head
 * @param middle of the bolt circle, away from which a crowded one puts its numbers; null where there is no circle
 */
export function boltHeads(joint: JointInput, places: Place[], head: number, middle: Place | null): Shape[] {
  const crowded = extentOf(places).nearest < 2 * head + ROOM_FOR_NUMBER
  return joint.fasteners.map((fastener, at) => {
    const place = places[at]!
    const others = places.filter((_, other) => other !== at)
    const number =
      crowded && middle !== null
        ? outside(place, head, middle)
        : besideHead(place, head, others, String(fastener.number).length)
    const shapes = [
      text('order-number', number.x, number.y, String(fastener.number)),
      ...marks(fastener, place, head, crowded),
    ]
    const label = headLabel(fastener, joint)
    if (fastener.href === null) return { group: true, label, shapes }
    return {
      link: true,
      href: fastener.href,
      label,
      shapes: [...shapes, circle('focus-ring', place.x, place.y, head + 5)],
    }
  })
}

const ROOM_FOR_NUMBER = 30

function marks(fastener: FastenerView, { x, y }: Place, head: number, crowded: boolean): Shape[] {
  const large = head > 40 ? ' large-word' : ''
  switch (fastener.state) {
    case 'complete':
      return [
        circle('ring', x, y, head),
        path('stripe', paintedStripe(x, y, head, crowded ? 1.35 : 1.78, fastener.number)),
      ]
    case 'next':
      return [
        circle('ring-next', x, y, head),
        ...bars(fastener, x, y, head),
        text(`word-in-ring on-next${large}`, x, y + 7, 'next'),
      ]
    case 'redo':
    case 'unsure':
    case 'old':
      return [
        circle('ring-broken', x, y, head, brokenRing(head)),
        ...bars(fastener, x, y, head),
        text(`word-in-ring on-broken${large}`, x, y + 7, fastener.state),
      ]
    case 'waiting':
      return [circle('ring', x, y, head), ...bars(fastener, x, y, head)]
  }
}

/** Six gaps of a quarter each. */
function brokenRing(head: number): string {
  const part = (2 * Math.PI * head) / 6
  return `${tenth(part * 0.74)} ${tenth(part * 0.26)}`
}

/** One short bar a stage, across the right-hand rim, 24 degrees apart from 22 degrees above the horizontal. */
function bars(fastener: FastenerView, x: number, y: number, head: number): Shape[] {
  return Array.from({ length: fastener.bars }, (_, stage) => {
    const angle = ((24 * stage - 22) * Math.PI) / 180
    const [dx, dy] = [Math.cos(angle), Math.sin(angle)]
    return line('stage-bar', x + dx * (head - 8), y + dy * (head - 8), x + dx * (head + 10), y + dy * (head + 10))
  })
}

/** Outside the bolt circle, where neighbours leave no room for the number. */
function outside({ x, y }: Place, head: number, middle: Place): Place {
  const angle = clearOfStripe(Math.atan2(y - middle.y, x - middle.x))
  const reach = head + 19
  return { x: x + Math.cos(angle) * reach, y: y + Math.sin(angle) * reach + HALF_A_NUMBER }
}

/** At the upper left of its head, or the first of the other sides where no other head lies; never on stripe or bars. */
function besideHead({ x, y }: Place, head: number, others: Place[], digits: number): Place {
  const spots = SIDES.map(degrees => {
    const angle = (degrees * Math.PI) / 180
    return { x: x + Math.cos(angle) * (head + 12), y: y + Math.sin(angle) * (head + 12) }
  })
  const isFree = (spot: Place) => others.every(other => Math.hypot(spot.x - other.x, spot.y - other.y) > head + 12)
  const spot = spots.find(isFree) ?? spots[0]!
  // on the left a number of two digits would reach into its own head
  const aside = spot.x < x - 1 ? HALF_A_DIGIT * (digits - 1) : 0
  return { x: spot.x - aside, y: spot.y + HALF_A_NUMBER }
}

const HALF_A_DIGIT = 7
/** Upper left, left, lower left, above, below: the stripe and the bars take the rest. */
const SIDES = [-146, 180, 146, -104, 76]
/** From the middle of a number to the line it stands on. */
const HALF_A_NUMBER = 9

/** The stripe runs to the upper right and the lower left; a number within 34 degrees of either is moved aside. */
function clearOfStripe(angle: number): number {
  for (const stripe of STRIPE_ENDS) {
    const apart = Math.atan2(Math.sin(angle - stripe), Math.cos(angle - stripe))
    if (Math.abs(apart) < CLEAR) return stripe + (apart < 0 ? -CLEAR : CLEAR)
  }
  return angle
}

const STRIPE_ENDS = [(-69 * Math.PI) / 180, (111 * Math.PI) / 180]
const CLEAR = (34 * Math.PI) / 180
