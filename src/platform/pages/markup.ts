import Handlebars from 'handlebars'
import type { Drawing, Shape } from './figures/drawing.ts'
import type { Piece, Words } from './words.ts'

/**
 * The two things that a page prints most of, sentences and drawings, as markup. Templates print them through {{> words}} and
 * {{> drawing}}; written here because a template takes many times as long for the hundreds of shapes of one joint.
 * Everything that is not a number of ours goes through `safe`.
 */
const safe = Handlebars.escapeExpression

/** Text, or a list of pieces with their links, numbers and plates. */
export function wordsMarkup(words: Words | null | undefined): string {
  if (words == null) return ''
  return typeof words === 'string' ? safe(words) : words.map(pieceMarkup).join('')
}

function pieceMarkup(piece: Piece): string {
  const inner = wrapped(piece)
  if (!piece.href) return inner
  return `<a${piece.acts ? ' class="acts"' : ''} href="${safe(piece.href)}">${inner}</a>`
}

function wrapped(piece: Piece): string {
  const text = safe(piece.text)
  if (piece.ref) return `<span class="ref">${text}</span>`
  if (piece.plate) return `<span class="plate">${text}</span>`
  if (piece.strong) return `<strong>${text}</strong>`
  if (piece.em) return `<em>${text}</em>`
  if (piece.small) return `<small>${text}</small>`
  return piece.struck ? `<s>${text}</s>` : text
}

/** One Drawing as SVG, with its title and description for whoever cannot see it. */
export function drawingMarkup({ id, classes, width, height, role, title, description, shapes }: Drawing): string {
  const named = safe(id)
  const labelledBy = description === '' ? `${named}-t` : `${named}-t ${named}-d`
  const described = description === '' ? '' : `<desc id="${named}-d">${safe(description)}</desc>`
  return (
    `<svg${classes === '' ? '' : ` class="${safe(classes)}"`} viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" ` +
    `role="${role}" aria-labelledby="${labelledBy}"><title id="${named}-t">${safe(title)}</title>${described}` +
    `${shapesMarkup(shapes)}</svg>`
  )
}

function shapesMarkup(shapes: readonly Shape[]): string {
  let markup = ''
  for (const shape of shapes) markup += `\n${shapeMarkup(shape)}`
  return markup
}

function shapeMarkup(shape: Shape): string {
  if ('link' in shape)
    return `<a href="${safe(shape.href)}" aria-label="${safe(shape.label)}">${shapesMarkup(shape.shapes)}</a>`
  if ('group' in shape) return `<g role="img" aria-label="${safe(shape.label)}">${shapesMarkup(shape.shapes)}</g>`
  const mark = safe(shape.mark)
  if ('line' in shape)
    return `<line class="${mark}" x1="${shape.x1}" y1="${shape.y1}" x2="${shape.x2}" y2="${shape.y2}"/>`
  if ('circle' in shape) {
    const dash = shape.dash === null ? '' : ` stroke-dasharray="${safe(shape.dash)}"`
    return `<circle class="${mark}" cx="${shape.cx}" cy="${shape.cy}" r="${shape.r}"${dash}/>`
  }
  if ('path' in shape) return `<path class="${mark}" d="${safe(shape.d)}"/>`
  if ('rect' in shape) {
    const round = shape.radius === 0 ? '' : ` rx="${shape.radius}"`
    return `<rect class="${mark}" x="${shape.x}" y="${shape.y}" width="${shape.width}" height="${shape.height}"${round}/>`
  }
  const anchor = shape.anchor === null ? '' : ` text-anchor="${shape.anchor}"`
  const spans = shape.spans.map(span =>
    span.mark === '' ? safe(span.words) : `<tspan class="${safe(span.mark)}">${safe(span.words)}</tspan>`,
  )
  return `<text class="${mark}" x="${shape.x}" y="${shape.y}"${anchor}>${spans.join('')}</text>`
}
