/**
 * A sentence that a template can print without trusting it: text, or a list of pieces of which some are links, numbers of
 * records or plates. Everything is escaped when printed; the address of a link is the only thing that needs care here.
 */
export interface Piece {
  text: string
  href?: string
  /** The number of a record, which never breaks over a line: work order 2031-0188, wrench W-11. */
  ref?: true
  /** A registration, drawn as a plate. */
  plate?: true
  strong?: true
  em?: true
  small?: true
  /** What was said first and put right since: struck through, and still to be read. */
  struck?: true
  /** A link that does something with what stands beside it, and is as high as a finger. */
  acts?: true
}

/** What every place for text in a partial takes. */
export type Words = string | readonly Piece[]

/** Joins texts and pieces: `words('Came in 41 days after it (', link('/work-orders/1', ref('2031-0188')), ').')`. */
export function words(...parts: (string | Piece)[]): Piece[] {
  return parts.filter(part => part !== '').map(part => (typeof part === 'string' ? { text: part } : part))
}

export const ref = (text: string): Piece => ({ text, ref: true })
export const plate = (text: string): Piece => ({ text, plate: true })
export const strong = (text: string): Piece => ({ text, strong: true })
export const em = (text: string): Piece => ({ text, em: true })
export const small = (text: string): Piece => ({ text, small: true })
export const struck = (text: string): Piece => ({ text, struck: true })

const SAFE_ADDRESS = /^(?:\/(?!\/)|#|\?|https?:\/\/|tel:|mailto:)/

/**
 * A link around a text or a piece. `href` is a path of this program, a fragment, a query, or an http(s), tel or mailto
 * address; anything else (`javascript:`) throws RangeError, since escaping does not make an address harmless.
 */
export function link(href: string, inner: string | Piece): Piece {
  if (!SAFE_ADDRESS.test(href))
    throw new RangeError(`link requires a path or a web, telephone or mail address, not ${href}`)
  return { ...(typeof inner === 'string' ? { text: inner } : inner), href }
}

/** A link that acts, in a cell or a reason: 'change', 'Decide'. Where fingers are used it is as high as one. */
export function act(href: string, label: string): Piece {
  return { ...link(href, label), acts: true }
}

/** The address that rings a telephone number, for `link`. */
export function telephone(phone: string): string {
  return `tel:${phone.replace(/[^\d+]/g, '')}`
}

/** The words without their pieces, for an accessible name or a title. */
export function plainText(value: Words): string {
  return typeof value === 'string' ? value : value.map(piece => piece.text).join('')
}
